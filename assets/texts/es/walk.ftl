# On foot: set-out and walk-round.
set-out-no-room = no hay lugar para { $setting }: estorbaría { $steel }
zone-off-site = el cono { $cone } está fuera del sitio
zone-too-near = los conos { $one } y { $other } están en el mismo lugar: retirar uno
zone-crosses = los conos no forman una zona: el lado del cono { $from } al { $to } cruza el del cono { $other_from } al { $other_to }. Ponerlos en el orden en que se camina alrededor de la línea
zone-too-small = los conos encierran { $area } m² y el mínimo es { $least } m²: ponerlos más separados

# Lo que se mira.
thing-plate = la placa de datos del rack
thing-wheel = la rueda de estrella del { $rail }
thing-gate-drive = el accionamiento de la compuerta del { $rail }
thing-surface = la superficie de rodadura del { $rail }
thing-gauge = el inclinómetro del { $rail }
thing-rail-foot = el pie del gato del { $rail }
thing-column = la columna elevadora del { $end }
thing-column-feet = los pies de la columna elevadora del { $end }
size-inches = { $size } in
size-millimetres = { $size } mm
size-odd = ningún diámetro de la lista

# Lo que se ve.
look-size = Los pernos están en los agujeros marcados { $size }.
look-size-between = Los pernos están entre dos agujeros.
look-interlock-sound = El interruptor del receptor se mueve libre y su cable está entero.
look-interlock-bridged = Un alambre puentea los bornes del interruptor del receptor.
look-plate = La placa de datos dice: carga máxima { $rated } kN.
look-pins-sound = El perno de compuerta y el perno separador están en sus ranuras, y los dos ceden al empujarlos.
look-gate-missing = La ranura del perno de compuerta está vacía.
look-gate-stuck = El perno de compuerta está oxidado y no cede al empujarlo.
look-separator-missing = La ranura del perno separador está vacía.
look-wheel = Los brazos de la rueda están enteros y la rueda cede al empujarla.
look-wheel-stuck = La rueda está oxidada y no cede al empujarla.
look-gate-drive-sound = La manguera de la compuerta va libre de la válvula al cilindro.
look-gate-drive-kinked = La manguera de la compuerta está doblada donde pasa bajo el riel.
look-surface = El riel está { $surface }.
look-chock-there = La calza cuelga de su gancho.
look-chock-missing = El gancho de la calza está vacío.
look-gauge = El tubo está entero y la burbuja se mueve libre. Si muestra lo que tiene el riel, solo lo dice un nivel puesto sobre el riel.
look-foot-padded = El pie está sobre su placa.
look-foot-bare = El pie está sobre el suelo, sin placa.
look-feet-padded = Los dos pies están sobre sus placas.
look-feet-bare = Los dos pies están sobre el suelo, sin placa.
look-feet-rack-bare = El pie del lado del rack está sobre el suelo, sin placa.
look-feet-outer-bare = El pie del lado exterior está sobre el suelo, sin placa.
look-column-upright = A simple vista la columna está derecha.
look-column-leans-out = La columna se inclina hacia el lado contrario al rack.
look-column-leans-in = La columna se inclina hacia el rack.
look-level-plumb = El nivel apoyado en ella muestra que está a plomo.
look-level-out = El nivel apoyado en ella muestra { $lean }° hacia el lado contrario al rack.
look-level-in = El nivel apoyado en ella muestra { $lean }° hacia el rack.
look-string-middle = El hilo pasa por el medio de la V.
look-string-out = El medio de la V está a { $off } mm del hilo, hacia el lado contrario al rack.
look-string-in = El medio de la V está a { $off } mm del hilo, hacia el rack.
look-hoses-sound = Los anillos de los acoples están hasta el fondo, y las mangueras y los cilindros están secos.
look-coupler-half = El anillo de un acople está un dedo salido.
look-coupler-off = Un acople cuelga junto a su enchufe.
look-oil = El aceite corrió por el vástago y goteó al suelo.
look-brake-worn = El forro del freno de los rodillos está gastado hasta los remaches.
look-rollers-sound = Todos los rodillos giran a mano.
look-rollers-seized = Los rodillos tienen caras planas por desgaste y no giran a mano.
look-cradles = La distancia entre ellas la dice la cinta métrica.
look-machine = La distancia desde la cuna cercana la dice la cinta métrica.
look-radio-sound = Prueba de radio: el vigía contesta.
look-radio-dead = Prueba de radio: nadie contesta.
look-cones = { $cones } conos. El hueco más ancho es de { $gap } m, entre los conos { $from } y { $to }.
look-stick = La línea impresa dice { $size }, DR { $ratio }. Diámetro exterior { $diameter } mm, largo { $length } m.
look-round = Medido en la recepción: redondo.
look-oval = Medido en la recepción: { $ovality } % de ovalidad, el eje mayor marcado con tiza.
look-oval-lies = Medido en la recepción: { $ovality } % de ovalidad. La marca de tiza del eje mayor está { $angle }° sobre los rieles.
level-on-rail = El nivel sobre el { $rail } muestra { $slope }°.

# Lo que resultó de un acto.
told-set = Hecho: { $setting }.
told-size = Los pernos se pusieron en los agujeros marcados { $size }.
told-string-stretched = El hilo está tendido por el centro de la línea.
told-string-taken = El hilo se recogió.
told-cone-put = El cono { $cone } está puesto.
told-cone-taken = El cono { $cone } se retiró.
told-cone-stacked = El cono volvió a la pila.
told-accepted = Aceptado: { $thing }.
told-put-right = Reportado y corregido: { $thing }.
told-nothing-found = Reportado: { $thing }. La cuadrilla lo revisa y no encuentra falla.
told-no-remedy = Reportado: { $thing }. En el sitio nada lo corrige: trabajar teniéndolo en cuenta.

# Por qué algo no se hace.
refused-jack-end = El gato está en su tope.
refused-cone-in-hand = Un cono a la vez: poner primero el que se lleva en la mano.
refused-no-cone = No hay ningún cono en la mano.
refused-look-first = Mirar primero de cerca: { $thing }.
refused-set-it-yourself = Nadie más lo hace, ajustarlo en persona: { $thing }.

# La prueba de funcionamiento.
check-went-along = { $button }: se mueve hacia ese lado a los { $late } s, hasta { $speed } mm/s. La placa de datos dice { $usual } mm/s.
check-went-against = { $button }: se mueve hacia el lado contrario a los { $late } s, hasta { $speed } mm/s. La placa de datos dice { $usual } mm/s.
check-went-nowhere = { $button }: { $held } s oprimido y nada se mueve.
tape-mark = la marca en el suelo

# Keys on foot.
foot-walk = W, A, S, D para andar (Mayús más rápido, Ctrl agacharse). Botón derecho del ratón o flechas para mirar.
foot-close = E mira de cerca lo nombrado; allí Y acepta, R avisa, Esc se aparta.
foot-jack = Junto a un gato: U y J giran su manivela, L pone el nivel sobre su riel.
foot-tape = T engancha o recoge la cinta; P pone la cuna o la máquina donde se sostiene.
foot-cones = C recoge un cono o lo pone.
foot-string = G tiende o recoge el cordel. Z deshace lo último.
foot-bound = { $list } va a la lista y vuelve, { $start } pone en marcha la línea, { $fold } oculta esto.
