# El laboratorio en la ventana: números que se escriben, y lo que más importa.
labscreen-exact = { $what }, exactamente
labscreen-unmeasured-of = { $what }: nadie lo ha medido
labscreen-thirds = { $low } en su tercio bajo, { $high } en su tercio alto
labscreen-matters-mark = De 0 a 100 %, lleno donde más de ello trae más, rayado donde trae menos. Línea vertical: { $all } de todos los ensayos, en las inclinaciones donde ni siempre ni nunca ocurre.
