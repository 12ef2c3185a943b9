# Lo que dice el juez: hallazgos, actos, causas, puntuación.

finding-struck = Persona golpeada
why-struck = Un tramo pesa tanto como un automóvil. A paso de hombre rompe huesos; más despacio, aplasta.
right-struck = Nadie dentro de los conos mientras un tramo pueda moverse. Quien deba entrar entra con la línea aislada.
rule-struck = Todo contacto reprueba la práctica. Las energías de 15 J y 79 J a partir de las cuales un fragmento se considera lesivo (práctica de seguridad de campos de tiro de EE. UU.; DDESB Technical Paper 12, vistas en textos secundarios) quedan muy por debajo de las de un tramo que rueda.

finding-double-feed = Doble alimentación
why-double-feed = El segundo tramo rueda contra el primero, o por encima, sin nada que lo detenga.
right-double-feed = Pendiente de 4 a 6 grados, pernos ajustados a esta tubería, todos los pernos puestos, y soltar la alimentación solo cuando el tramo haya librado la compuerta.
rule-double-feed = Un tramo por ciclo (práctica común, sin fuente). Lo que la compuerta retiene depende de su altura, de la pendiente y del largo de la fila.

finding-roll-off = Caída por rodadura
why-roll-off = Un tramo suelto rueda hasta que el terreno lo detiene, y nadie puede sujetarlo.
right-roll-off = Receptor arriba y vacío antes de alimentar, bajar solo un tramo quieto, elevar y desplazar con los dos extremos en las cunas.
rule-roll-off = Ningún tramo sale de la línea (práctica común, sin fuente).

finding-dropped = Tramo caído
why-dropped = Una caída daña el extremo del tubo y la máquina, y el rebote va adonde nadie lo espera.
right-dropped = Receptor arriba antes de alimentar; horquillas abiertas, bajas e inclinadas hacia atrás, y frenar suave con carga.
rule-dropped = Una llegada a la línea a más de { $limit } m/s cuenta como caída (cifra propia: una caída libre de 50 mm).

finding-under-stick = Persona bajo un tramo elevado
why-under-stick = Un elevador que cede o un tramo que deja su V no da tiempo de salir.
right-under-stick = Bajar antes de que alguien se acerque; nadie pasa ni se estira bajo un tramo elevado o transportado.
rule-under-stick = Nadie bajo la carga (29 CFR 1926.1425 para cargas izadas; aquí, para todo tramo elevado).

finding-from-below = Tramo palanqueado desde abajo
why-from-below = El tramo arranca en cuanto se suelta, sobre quien esté abajo.
right-from-below = Detener, aislar y bloquear, calzar aguas abajo, sujetar con el cargador y trabajar desde los extremos.
rule-from-below = Nadie debajo de un tramo trabado (práctica común, sin fuente; nadie expuesto a una carga sin asegurar).

finding-in-zone = Persona dentro de la zona con un tramo que podía moverse
why-in-zone = En un rack de 5 grados un tramo recorre metro y medio antes de que una persona sorprendida quede a salvo.
right-in-zone = Soltar, aislar, llamarlas fuera y volver a empezar con los conos despejados.
rule-in-zone = La línea debe quedar segura en { $limit } s desde que alguien entra (percepción y respuesta de unas nueve de cada diez personas: AASHTO Green Book, citado en un texto secundario).

finding-zone-inadequate = Zona de exclusión insuficiente
why-zone-inadequate = Conos puestos donde puede llegar un tramo suelto dicen que se está a salvo donde no es cierto.
right-zone-inadequate = Poner los conos alrededor de todo lo que un tramo suelto puede alcanzar antes de alimentar.
rule-zone-inadequate = La zona cubre el alcance de un tramo suelto, calculado de la pendiente, la altura, el terreno y la resistencia a rodar (práctica común, sin fuente para el método).

finding-pitch-outside = Pendiente del rack fuera de límites
why-pitch-outside = Muy plano, un tramo ovalado se traba y arranca con un roce. Muy inclinado, la fila salta la compuerta y los tramos llegan demasiado rápido.
right-pitch-outside = Leer los dos inclinómetros y ajustar los dos rieles antes de cargar tubería.
rule-pitch-outside = De { $low } a { $high } grados, nunca más de { $never } (práctica común, sin fuente).

finding-rack-overloaded = Rack sobrecargado
why-rack-overloaded = Un riel que cede suelta toda la fila.
right-rack-overloaded = Leer la placa del rack y contar los tramos antes de pedir el siguiente.
rule-rack-overloaded = La carga no pasa de la placa del rack (capacidad del fabricante).

finding-wrong-setting = Escape ajustado a otro diámetro
why-wrong-setting = El separador no entra en el hueco entre los tramos, o la compuerta queda baja para ellos.
right-wrong-setting = Ajustar los pernos o la rueda a la tubería del rack y comprobarlo con el primer tramo.
rule-wrong-setting = El ajuste es el diámetro exterior de la tubería (el separador de este equipo solo cabe entre 0.866 y 1 diámetro de la esquina de la compuerta).

finding-jack-under-load = Gato movido con carga
why-jack-under-load = Un riel que se mueve bajo la tubería pone en marcha la fila, y un gato que resbala la deja caer.
right-jack-under-load = Primero retirar la tubería del rack; después ajustar la pendiente.
rule-jack-under-load = Los gatos nunca se ajustan con tubería en el rack (práctica común, sin fuente).

finding-crossed-accepted = Movimiento contra su flecha aceptado
why-crossed-accepted = Con prisa la mano confía en la flecha: el tramo va al revés.
right-crossed-accepted = Probar cada movimiento una vez, en vacío, contra su flecha; hacer corregir las mangueras cruzadas antes de mover tubería.
rule-crossed-accepted = Un mando mueve lo que indica y hacia donde indica (idea de IEC 60447, de memoria; práctica común).

finding-fault-missed = Falla pasada por alto en la ronda
why-fault-missed = Lo que la ronda no encuentra, lo encuentra el primer tramo.
right-fault-missed = Mirar cada elemento, probar cada movimiento, reportar lo que esté mal y alimentar solo cuando se haya corregido.
rule-fault-missed = El equipo con fallas no se usa hasta corregirlo (29 CFR 1926.251 lo pide de las eslingas antes de cada turno; práctica común para el resto).

finding-fed-unready = Alimentado con el receptor no listo
why-fed-unready = El tramo cae en las cunas o sobre el anterior.
right-fed-unready = Mirar el receptor, no la lámpara: arriba y vacío antes de cada alimentación.
rule-fed-unready = Receptor arriba y vacío antes de alimentar (práctica común, sin fuente; el enclavamiento pide lo mismo).

finding-let-go-early = Alimentación soltada antes de tiempo
why-let-go-early = La compuerta sube bajo el tramo y lo lanza, o lo deja a medio soltar.
right-let-go-early = Mantener la alimentación hasta que el tramo haya librado la compuerta.
rule-let-go-early = La compuerta cierra en vacío (práctica común, sin fuente): el eje del tramo rebasó el perno por la media anchura que tiene a la altura del perno.

finding-stop-unheeded = Alto del vigía desatendido
why-stop-unheeded = El vigía ve el extremo que el operador no ve.
right-stop-unheeded = Al oír alto, soltar todo, aislar y preguntar.
rule-stop-unheeded = Todo se detiene en { $limit } s desde la voz (percepción y respuesta: AASHTO Green Book, citado en un texto secundario). Cualquiera puede dar el alto (práctica común).

finding-stop-late = Paro de emergencia tardío o ausente
why-stop-late = Un movimiento motorizado se detiene en un dedo de recorrido; una persona atrapada no sale.
right-stop-late = Pulsar el paro de emergencia a la primera vista de alguien cerca de una parte en movimiento, y preguntar después.
rule-stop-late = El paro de emergencia está siempre a la mano y va antes que todo (ISO 13850, vista en textos secundarios). No detiene un tramo que rueda.

finding-lift-tilt = Tramo inclinado en los elevadores
why-lift-tilt = Un tramo inclinado se desliza a lo largo cuando cede un freno o hay escarcha.
right-lift-tilt = Elevar los dos extremos a la vez y mirar el nivel.
rule-lift-tilt = A lo sumo { $limit } grados a lo largo (cifra propia: menos que los 1.65 grados a los que un tramo con escarcha se desliza en V de las que una está libre).

finding-high-low = Desalineación en la entrega
why-high-low = Paredes que no coinciden hacen una unión débil; mordazas que las fuerzan doblan el tubo, y este salta de vuelta.
right-high-low = Corregir altura y línea hasta que el extremo quede alineado, y solo entonces pedir las mordazas.
rule-high-low = A lo sumo { $limit } % de la pared mínima (ASTM F2620, de memoria).

finding-joint-rushed = Mordazas abiertas antes de terminar la unión
why-joint-rushed = Una unión movida mientras enfría es débil, y un tubo doblado salta de las mordazas abiertas.
right-joint-rushed = No tocar las mordazas hasta que pase el tiempo de la unión.
rule-joint-rushed = La unión enfría bajo presión, sin moverla (ASTM F2620, de memoria); su tiempo es el del procedimiento de unión.

finding-loaded-unchocked = Fila cargada sin calzas
why-loaded-unchocked = El tramo que llega empuja la fila contra la compuerta sin nada más que la retenga.
right-loaded-unchocked = Hacer calzar la fila, y todos fuera, antes de que venga el cargador.
rule-loaded-unchocked = Calzas en la fila al cargar (práctica común, sin fuente; 29 CFR 1926.250(b)(9) pide calzar el material redondo, de memoria).

finding-left-live = Línea dejada activa
why-left-live = Un tramo que nadie vigila arranca con la escarcha, el viento o quien pasa.
right-left-live = Bajar, calzar, cerrar la compuerta, aislar y bloquear antes de irse.
rule-left-live = Sin vigilancia, ningún tramo puede moverse (práctica común, sin fuente).

finding-hard-seat = Tramo asentado con fuerza
why-hard-seat = Un tramo que llega rápido o aún se mece sube por el ala; un poco más y la pasa.
right-hard-seat = Mantener la pendiente dentro de sus límites, esperar a que el tramo quede quieto en el receptor, y entonces bajar.
rule-hard-seat = No más de { $limit } m/s al bajar o asentar, y en el tope del receptor no más del { $entry } % de la velocidad que lo pasa (cifras propias).

finding-rough-landing = Llegada brusca a la fila
why-rough-landing = Cada golpe recorre la fila hasta la compuerta.
right-rough-landing = Cargar mientras no se alimenta, justo detrás del último tramo.
rule-rough-landing = No más de { $limit } m/s (cifra propia).

finding-long-axis-off = Eje mayor no vertical
why-long-axis-off = Dos extremos ovalados girados uno respecto del otro no coinciden en todo el contorno.
right-long-axis-off = Girar el tramo hasta que la marca de su eje mayor quede vertical.
rule-long-axis-off = Dentro de { $limit } grados para tubería de { $oval } % de ovalidad o más (cifras propias).

finding-gap-off = Separación a la sarta incorrecta
why-gap-off = Presionado contra la sarta el tramo queda forzado y salta al soltarlo; muy lejos, el carro no alcanza.
right-gap-off = Soltar el avance a tiempo y parar justo antes de la sarta.
rule-gap-off = De { $least } a { $limit } mm (cifras propias: lo que el ojo distingue del contacto, y lo que recorre el carro).

finding-no-horn = Bocina sin sonar
why-no-horn = Quien está de espaldas al rack no oye venir nada.
right-no-horn = Sonar la bocina antes de cada alimentación.
rule-no-horn = Dentro de los { $limit } s antes de alimentar (cifra propia; el aviso antes de arrancar lo piden ISO 12100 e IEC 60204-1, de memoria).

finding-needless-motion = Movimiento innecesario
why-needless-motion = Un movimiento sostenido en su tope calienta el aceite y no dice a nadie adónde va el tramo.
right-needless-motion = Soltar al llegar.
rule-needless-motion = No más de { $limit } s en total (cifra propia).

finding-slow-cycle = Tramo entregado con lentitud
why-slow-cycle = La unión marca el paso: una máquina que espera tubería hace correr a los demás.
right-slow-cycle = Un paso tras otro, sin prisa y sin esperas.
rule-slow-cycle = De la alimentación a las mordazas dentro del tiempo del escenario (cifra propia).

fact-struck = { $by } golpeó a { $person } a { $speed } m/s con { $energy } J
fact-double-feed = el { $stick } pasó por la compuerta abierta detrás del que se alimentaba
fact-over-closed-gate = el { $stick } pasó por encima de la compuerta cerrada
fact-roll-off = el { $stick } salió de la línea
fact-dropped-from-forks = el { $stick } cayó de las horquillas
fact-dropped = el { $stick } cayó sobre la línea a { $speed } m/s
fact-under-stick = { $person } estuvo bajo el { $stick }, que estaba elevado
fact-from-below = el { $stick } fue palanqueado desde abajo
fact-jack-under-load = el gato del { $rail } se movió con tubería en el rack
fact-fed-occupied = se alimentó con un tramo todavía en el espacio del receptor
fact-fed-low = se alimentó con el receptor { $low } mm por debajo de su posición alta
fact-let-go-early = la compuerta cerró con el { $stick } todavía encima
fact-joint-rushed = las mordazas soltaron el { $stick } a los { $held } s de { $joint } s
fact-hard-entry = el { $stick } llegó al tope del receptor a { $speed } m/s, el { $part } % de lo que lo pasa
fact-lowered-rocking = el receptor bajó con el { $stick } meciéndose a { $speed } m/s
fact-hard-seat = el { $stick } llegó a las cunas a { $speed } m/s
fact-rough-landing = el { $stick } llegó contra la fila a { $speed } m/s
fact-in-zone = { $person } estuvo dentro { $time } s mientras un tramo podía moverse
fact-stop-unheeded = se mantuvo { $button } { $time } s después del alto del vigía
fact-stop-late = el { $motion } siguió { $time } s después de verse el peligro
fact-no-horn = se alimentó sin sonar la bocina
fact-zone-short = los conos quedan { $by } m cortos de donde puede llegar un tramo suelto
fact-zone-does-not-stop = un tramo suelto no se detendría en este terreno: ninguna zona basta
fact-no-zone = no se puso ninguna zona
fact-pitch-outside = se alimentó con rieles a { $near }° (cercano) y { $far }° (lejano); la regla es de { $low } a { $high }°
fact-wrong-setting = se alimentó con el escape ajustado a { $setting } mm y tubería de { $pipe } mm
fact-crossed-accepted = se alimentó con cruce en { $item }
fact-fault-missed = se alimentó con una falla en { $item }
fact-pins-missing = se alimentó con un perno faltante en el { $rail }
fact-chock-missing = se alimentó sin la calza del { $rail }
fact-foot-bare = se alimentó sin placa bajo el pie del { $rail }
fact-column-bare = se alimentó sin placa bajo un pie del elevador del { $end }
fact-column-off = se alimentó con el elevador del { $end } fuera de línea o de plomo
fact-interlock-defeated = se alimentó con el enclavamiento anulado
fact-rack-overloaded = { $load } kN en un rack para { $rated } kN
fact-lift-tilt = el { $stick } estuvo a { $tilt }° fuera de nivel a lo largo; a lo sumo { $limit }°
fact-high-low = el { $stick } se entregó { $off } mm fuera de la sarta; a lo sumo { $limit } mm
fact-long-axis-off = el { $stick } se entregó con su eje mayor a { $off }° de la vertical; a lo sumo { $limit }°
fact-gap-pressed = el { $stick } se entregó presionado contra la sarta
fact-gap-off = el { $stick } se entregó a { $gap } mm de la sarta; a lo sumo { $limit } mm
fact-loaded-unchocked = el { $stick } se dejó sobre una fila sin calzas
fact-needless-motion = el { $motion } se mantuvo { $time } s en total sin poder moverse
fact-slow-cycle = el { $stick } tardó { $time } s de la compuerta a las mordazas; a lo sumo { $limit } s
fact-left-live = se dejó la línea con un tramo que podía moverse

act-pitch = dejó los rieles como se encontraron
act-size-setting = dejó el escape ajustado a otro diámetro
act-pins = dejó pernos o calzas faltantes
act-pads = dejó pies sin placa
act-zone = dejó la zona como se encontró
act-interlock = dejó anulado el enclavamiento
act-load = dejó demasiada tubería en el rack
act-machine = dejó cunas o máquina donde se encontraron
act-fault = no reportó { $item }
act-pressed = pulsó { $button }
act-let-go = soltó la alimentación
act-called = pidió { $call }
act-not-isolated = dejó la energía conectada
act-not-cleared = no llamó a la gente fuera
act-not-chocked = pidió un tramo con la fila sin calzar
act-no-horn = alimentó sin bocina
act-tarried = dejó pasar el tiempo

rescue-emergency-stop = el paro de emergencia
rescue-let-go = soltar todo
rescue-isolate = aislar la energía
rescue-lower = bajar los dos elevadores
rescue-hold-with-loader = aislar y sujetar el tramo con el cargador
rescue-call-out = llamar a la gente fuera con la bocina

severity-critical = crítico
severity-major = grave
severity-minor = leve

score-passed = APROBADO con { $points } de 100 puntos
score-failed-goal = REPROBADO: no se hizo lo pedido ({ $points } de 100 puntos)
score-failed-critical = REPROBADO por un hallazgo crítico ({ $points } de 100 puntos)
score-failed-broken-off = REPROBADO: la ejecución se interrumpió ({ $points } de 100 puntos)
score-failed-points = REPROBADO: { $points } de 100 puntos, se requieren { $mark }
score-no-findings = sin hallazgos: no se descuenta nada
score-line = -{ $points }  { $time } s  { $title } ({ $severity })
score-line-at = -{ $points }  { $time } s  { $title } ({ $severity }), en x { $x } m, z { $z } m
line-rule = Regla: { $rule }
line-act = Acto: { $act }, { $time } s
line-fact = Qué resultó: { $fact }
line-why = Por qué importa: { $why }
line-right = Lo correcto: { $right }
line-cause = Causado por (repetida la práctica sin ello, no ocurre): { $act }, { $time } s
line-no-cause = Causas: ninguno de { $tried } actos por sí solo lo evita
line-undecided = Sin decidir dentro de los límites: { $count }
line-last-chance = Última oportunidad: { $rescue } a los { $time } s, { $before } s antes
line-no-last-chance = Última oportunidad: ninguno de los rescates probados lo evita en los últimos { $window } s
leading-heading = Qué tan cerca estuvo
leading-line-of-fire = personas en la línea de fuego  { $time } s
leading-nearest = más cerca de tubería en movimiento  { $person }, a { $distance } m del { $stick } a los { $time } s
leading-soonest = alcance más próximo            { $person }, en { $seconds } s por el { $stick } a los { $time } s
leading-entry = más rápido al receptor         { $stick }, { $speed } m/s, { $part } % de lo que sale de la silla
leading-gate = golpe más fuerte en la compuerta  { $stick }, { $speed } m/s, { $part } % de la energía que la salta
explain-why = Por qué importa
explain-right = El acto correcto
explain-rule = La regla y su fuente
