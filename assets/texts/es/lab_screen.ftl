# El laboratorio en la ventana.
window-lab = Laboratorio
window-lab-watch = Un ensayo del laboratorio
title-laboratory = Laboratorio
title-laboratory-note = Entre qué pendientes la línea suelta un solo tubo cada vez, y con qué seguridad

labscreen-title = Laboratorio
labscreen-caution = Una respuesta simulada solo puede estrechar los límites del oficio y del fabricante, nunca ampliarlos: una rampa de { $low } a { $high }°, nunca más de { $never }°, y lo que dice el manual del fabricante. Lo que se da es la confianza del muestreo con estos supuestos: cuánto se puede confiar en el número de ensayos, no en el modelo.
labscreen-rack = Rampa del laboratorio: seis tubos y nada más
labscreen-set-up = Preparar
labscreen-picture = Imagen
labscreen-trials = Ensayos

labscreen-base = Escenario de partida
labscreen-base-note = Elegir otro
labscreen-pitches = Pendientes que se miran
labscreen-pitch = Pendiente de la rampa
labscreen-step = En pasos de
labscreen-from = { $what }: desde
labscreen-to = { $what }: hasta
labscreen-varies = Lo que varía de un ensayo a otro
labscreen-vary = Variar también otra cosa
labscreen-unmeasured = Nadie lo ha medido
labscreen-leave = No variar más { $what }
labscreen-second = Se compara con
labscreen-second-none = Nada todavía. Un segundo montaje recibe los mismos números al azar, así que las diferencias no son suerte.
labscreen-compare = Comparar con un segundo montaje
labscreen-change = Cambiar en él también otra cosa
labscreen-undo = Dejar { $what } como en el escenario
labscreen-instead = { $value } en vez de { $base }
labscreen-follows = lo que resulta de lo demás
labscreen-accepted = Riesgos que se aceptan
labscreen-below = menos de { $below }
labscreen-confidence = Confianza del muestreo
labscreen-chance = Azar
labscreen-seed = semilla
labscreen-seed-note = La misma semilla da los mismos ensayos, hasta el último bit. Otra muestra cuánto es suerte.
labscreen-trials-each = Ensayos con cada pendiente
labscreen-trials-all = { $trials } ensayos en total, con { $pitches ->
        [1] una pendiente
       *[other] { $pitches } pendientes
    }
labscreen-choose-variable = ¿Qué ha de variar?
labscreen-choose-second = ¿Qué tiene distinto el segundo montaje?
labscreen-without = Volver sin elegir
labscreen-seek = Buscar
labscreen-none-found = Ningún campo tiene eso en su nombre o en su significado.
labscreen-fault = { $place }: { $what }

labscreen-run = Simular
labscreen-run-anew = Simular de nuevo
labscreen-stop = Parar
labscreen-go-on = Seguir
labscreen-stage-nothing = todavía no se ha simulado nada
labscreen-stage-running = en marcha
labscreen-stage-stopping = termina los ensayos que tiene en mano
labscreen-stage-stopped = parado, sus filas se conservan
labscreen-stage-done = terminado
labscreen-stage-failed = no pudo seguir, sus filas se conservan
labscreen-pace = { $done } de { $of } ensayos, { $rate } por segundo, quedan { $left }
labscreen-rows = { $done } de { $of } ensayos
labscreen-changed = La imagen muestra lo que estaba puesto cuando se simuló. Lo que está puesto ahora no se ha simulado.
labscreen-set-back = Poner lo que muestra la imagen

labscreen-window = Se suelta un solo tubo entre
labscreen-marks = Líneas verticales: lo menos y lo más del oficio, y nunca por encima.
labscreen-axis-pitch = pendiente [grados]
labscreen-axis-share = probabilidad [%], con la confianza del muestreo del { $confidence } % con estos supuestos
labscreen-curves = Pendiente que se mira { $what }
labscreen-nothing = Las fórmulas cerradas están arriba, al momento. Simule para ver cuántas veces falla cada pendiente.
labscreen-compared = { $event }: de { $all } ensayos, { $both } con ambos, { $first_alone } solo { $first }, { $second_alone } solo { $second }. Si ninguno fuera mejor, un reparto tan desigual vendría con una probabilidad de { $by_chance }.
labscreen-save = Guardar la hoja de respuesta
labscreen-save-note = Como página con sus gráficas, junto a las filas, en su carpeta de datos.
labscreen-saving = Se está haciendo la hoja
labscreen-saved = { $file }: la hoja; sus gráficas y las filas están al lado

labscreen-trials-none = Cuando se haya simulado algo, señale una pendiente en la imagen y aquí salen sus ensayos. Cada uno se puede ver tal como se simuló.
labscreen-trials-note = Elija un ensayo para verlo.
labscreen-point = Ensayos con { $pitch }
labscreen-number = Ensayo { $trial }
labscreen-trial = Ensayo { $trial } con { $pitch }
labscreen-trial-of = Ensayo { $trial } con { $pitch }, { $set_up }
labscreen-all = todos
labscreen-kind = { $what }: { $count }
labscreen-kind-failed = fallidos
labscreen-failed = Falló, cuenta como todo lo malo: { $why }
labscreen-trials-empty = Todavía no hay ningún ensayo así.
labscreen-page = Página
labscreen-page-of = { $page } de { $pages }
labscreen-play = Dejarlo correr
labscreen-hold = Detenerlo
labscreen-watch = Verlo en toda la ventana
labscreen-again = Desde el principio
labscreen-speed = Velocidad del tiempo
labscreen-watch-back = Volver al laboratorio
labscreen-same = Igual que en su fila, hasta el último bit: seguro a los { $time } s.
labscreen-other = No es lo que dice su fila. Puede que las filas sean de otra versión del programa: simúlelas de nuevo.
lab-thread-lost = el barrido se interrumpió dentro del programa; sus filas se conservan, siga para probar otra vez
