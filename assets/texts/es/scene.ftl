# Lo que se escribe en la escena.
overlay-zone-live = Zona de exclusión: un tramo puede moverse
overlay-zone-at-rest = Zona de exclusión: nada puede moverse
overlay-reach = Hasta aquí llega un tramo suelto
overlay-no-reach = Un tramo suelto no se detendría
overlay-after = { $seconds } s
overlay-fire-moving = Línea de fuego del tramo { $stick }
overlay-fire-if-let-go = Línea de fuego si se suelta el tramo { $stick }
overlay-level = a nivel
overlay-tilt = { $degrees }°, { $end } en alto
overlay-centre-line = línea central de las mordazas, { $height_m } m
overlay-force = { $kn } kN
