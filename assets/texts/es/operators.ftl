# Quién puede estar al mando: qué hace.
operator-expert = Revisa todos los movimientos, despeja la línea y hace el ciclo completo, mirando el tramo antes de cada paso.
operator-feeder = Alimenta un tramo y mira qué resulta; no toca nada más.
operator-lets-go-early = Suelta el botón de alimentar en cuanto el tramo se mueve: la compuerta sube debajo de él.
operator-feeds-too-soon = Alimenta el tramo siguiente mientras el anterior está todavía en las cunas.
operator-forgets-the-receiver = Alimenta con el receptor abajo.
operator-lowers-at-once = Baja mientras el tramo se balancea todavía en el receptor.
operator-one-end-first = Eleva el extremo cercano hasta arriba antes que el lejano.
operator-by-eye = Eleva ambos extremos una vez, a ojo, y no corrige nada.
operator-never-turns = Deja el eje mayor de un tramo ovalado tal como está.
operator-advances-low = Avanza antes de elevar el tramo hasta el eje de la máquina.
operator-into-the-string = Mantiene el avance hasta que el tramo da contra la sarta.
operator-rushes-the-joint = Hace abrir las mordazas a la mitad del tiempo de la unión.
operator-calls-nobody-out = No hace salir a la gente de la línea ni atiende al vigía.
operator-bars-from-below = Hace palanquear desde abajo un tramo trabado, con alimentar pulsado.
operator-jacks-under-load = Acciona los gatos bajo un tramo trabado, con alimentar pulsado.
operator-trusts-the-arrows = No prueba ningún movimiento antes de mover tubería.
operator-loads-unchocked = Hace que el cargador deposite tramos en una fila sin calzas.
operator-leaves-it-live = Se aleja de la línea sin aislarla.
operator-heeds-no-spotter = Hace salir a todos una vez, y después no oye el alto del vigía.

## Por qué uno de ellos no sirve en una línea.
unfit-no-technician = no hay técnico para sujetar un tramo
unfit-no-rigger = no hay maniobrista
unfit-too-steep = el rack tiene más pendiente de la que puede tener nunca: hay que replantearlo antes
unfit-pitches-apart = las pendientes de los rieles no son iguales: hay que replantear el rack antes
unfit-not-set = el escape no está ajustado para esta tubería: hay que ajustarlo antes
unfit-pins-missing = faltan pernos o están pegados: la ronda de inspección lo encuentra antes de cargar tubería
unfit-hung-alone = para soltar un tramo trabado hacen falta un maniobrista y un cargador
unfit-wheel = una rueda sigue sola hasta su muesca siguiente
unfit-interlock = el enclavamiento rechaza alimentar en ese caso
unfit-one-stick = hay un solo tramo
unfit-receiver-up = el receptor está arriba desde el comienzo
unfit-round = la tubería es casi redonda
unfit-nobody-walks = nadie camina a ninguna parte
unfit-no-load = el cargador no trae nada
unfit-rolls = todos los tramos ruedan solos en este rack
unfit-motions-sound = todos los movimientos están en orden
