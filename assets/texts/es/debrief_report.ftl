# El informe de una ejecución grabada, en papel.
cli-report-about = Escribe el informe de una grabación: una página HTML para leer, imprimir y firmar
cli-report-usage = chockline report [OPTIONS] --out <PÁGINA> <GRABACIÓN>
cli-report-recording = Grabación de una ejecución, de la ventana o de `chockline run --record`
cli-report-out = Página que se escribe (HTML); lo contiene todo y no necesita red
cli-report-replace = Reemplaza lo que ya haya ahí, aunque no sea un informe; nunca la grabación
cli-report-no_pictures = Omite las imágenes
cli-value-page = PÁGINA
cli-report-long =
    La página tiene el resultado, la puntuación línea por línea con causas y actos correctos, imágenes de los momentos decisivos, la línea de tiempo, gráficas, un plano, los ajustes frente a lo que deberían ser, líneas para firmas y cómo verificarla. Se lee en un teléfono y se imprime en Carta y A4; para un PDF, imprímala desde un navegador.

    El estado de salida es 0 cuando la página está escrita, sea cual sea el resultado, y 2 si la grabación o el lugar no sirven.
report-no-report = { $file }: ya existe y no es un informe; indique otro lugar, o --replace para escribir encima
report-running = se repite la ejecución

paper-title = Informe: { $scenario }
paper-sheet-head = { $title } – { $who } – { $result }
paper-sheet-foot = { $caution } Para verificar: { $command } (el SHA-256 de la grabación empieza por { $hash })
paper-who = { $name }
paper-who-simulated = '{ $name }', un operador simulado: { $does }
paper-passed = ✓ Aprobado
paper-failed = × No aprobado

paper-summary = Resumen
paper-scenario = Escenario
paper-by = En la botonera
paper-task = Tarea
paper-seed = Semilla
paper-duration = Tiempo simulado
paper-lasted = { $time } s
paper-lasted-ended = { $time } s; { $ending }
paper-recorded-by = Grabado con
paper-made-by = Informe hecho con
paper-program = { $program } { $version }
paper-program-at = { $program } { $version }, { $at }
paper-reasons = Lo que se midió

paper-score = Puntuación, línea por línea
paper-number = N.º
paper-time = Tiempo
paper-found = Hallazgo
paper-points = Puntos
paper-begins = Toda ejecución empieza con
paper-comes-to = Queda en (se necesitan { $mark })
paper-no-findings = Ningún hallazgo: no se descuenta nada.
paper-at = { $time } s
paper-costs = { $points } puntos
paper-act = Acto
paper-act-at = A los { $time } s: { $act }.
paper-act-before = Antes de que se moviera tubería: { $act }.
paper-consequence = Lo que resultó
paper-fact = A los { $time } s: { $fact }.
paper-fact-at = A los { $time } s, a { $x } m del eje de la línea y { $z } m a lo largo: { $fact }.
paper-right = El acto correcto
paper-chain = Cómo se llegó a ello
paper-caused = Repetido sin esto, no sucede.
paper-no-cause = Ninguno de los { $tried } actos probados lo evita por sí solo.
paper-last-chance = Última oportunidad a los { $time } s, { $before } s antes: { $rescue }.
paper-no-last-chance = Sin última oportunidad: ninguno de los rescates probados lo evita en los últimos { $window } s.
paper-came = { $title }, a los { $time } s.
paper-undecided = Sin decidir dentro de los límites de la indagación: { $count }.
paper-not-inquired = No se indagó: es un acto en sí, o no es el primer hallazgo de su clase.
paper-rule = Regla y fuente

paper-pictures = Momentos decisivos
paper-moment = { $heading }, { $time } s
paper-moment-act = El acto
paper-moment-point = La última oportunidad
paper-moment-outcome = El desenlace
paper-moment-nearest = Lo que estuvo más cerca del daño
paper-moment-end = El final
paper-sentence = { $said }.
paper-end = A los { $time } s: { $ending }.
paper-picture-shows = El patio, dibujado por el programa. { $heading }
paper-pictures-left-out = Las imágenes se omitieron, como se pidió.
paper-pictures-need-view = Este programa se compiló sin su vista, así que no hay imágenes. El plano y las gráficas de abajo vienen de la misma ejecución.
paper-pictures-failed = En esta máquina no se pudieron dibujar imágenes. { $why } El plano y las gráficas de abajo vienen de la misma ejecución.
paper-pictures-not-again = No hay imágenes: este programa llega a otra cosa cuando repite la grabación, y mostrarían otra ejecución.

paper-timeline = Línea de tiempo
paper-timeline-shows = Línea de tiempo de { $time } s con { $acts } actos, { $events } sucesos y { $findings } hallazgos; la tabla de abajo los enumera.
paper-lane-acts = hecho
paper-lane-events = sucedido
paper-lane-findings = hallado
paper-kind = Clase
paper-what = Qué
paper-kind-act = hecho
paper-kind-event = sucedido
paper-kind-finding = hallado

paper-curves = Curvas
paper-curves-explained = Las líneas verticales están donde se halló algo, con su número en la puntuación; las líneas de puntos son límites.
paper-plot = { $title }, { $unit }
paper-series = { $name }: mínimo { $least }{ $unit } a los { $least_at } s, máximo { $most }{ $unit } a los { $most_at } s.
paper-series-none = { $name }: no se midió nada.
paper-limit = Límite, { $name }: { $value }{ $unit }.

paper-plan = Desde arriba
paper-plan-shows =
    El patio visto desde arriba, con el rack en lo alto. { $cones ->
        [0] No hay conos.
       *[other] { $cones } conos forman la zona.
    } { $sticks ->
        [one] Se movió 1 tramo.
       *[other] Se movieron { $sticks } tramos.
    } { $people ->
        [0] No había nadie en el sitio.
        [one] Había 1 persona en el sitio.
       *[other] Había { $people } personas en el sitio.
    } { $down ->
        [0] {""}
        [one] 1 de ellas fue golpeada.
       *[other] { $down } de ellas fueron golpeadas.
    }
paper-legend-way = recorrido del centro de un tramo
paper-legend-was = donde estaba al principio
paper-legend-walk = recorrido de una persona
paper-legend-cones = zona como se montó
paper-legend-reach = alcance de un tramo suelto

paper-settings = Ajustes
paper-setting = Qué
paper-as-found = Como se encontró
paper-as-set = Como se ajustó
paper-as-should = Como debe ser
paper-standing = Juicio
paper-standing-right = ✓ correcto
paper-standing-wrong = × incorrecto
paper-standing-unusual = ⚠ inusual
paper-settings-explained = 'Inusual' no es como lo tiene la práctica común para esta tubería, y el sitio puede pedirlo.
paper-degrees = { $value }°
paper-degrees-within = { $low } a { $high }°
paper-millimetres = { $value } mm
paper-metres = { $value } m
paper-kilonewtons = { $value } kN
paper-at-most = a lo sumo { $value }
paper-machine = de la cuna cercana a las mordazas de la máquina
paper-load = carga en el rack al principio
paper-cones =
    { $cones ->
        [0] sin conos
        [one] 1 cono
       *[other] { $cones } conos
    }
paper-zone-short = { $cones }, pequeña por { $by } m
paper-zone-endless = { $cones }, pero un tramo suelto no se detiene aquí
paper-no-zone = sin zona
paper-zone-right = alrededor de todo lo que alcanza un tramo suelto
paper-faulty = defectuoso
paper-sound = en orden
paper-put-right = corregido
paper-left-faulty = dejado como estaba

paper-signatures = Firmas
paper-signed-demonstration = La botonera la manejó un operador simulado: esto no es prueba del trabajo de nadie.
paper-trainee = Aprendiz
paper-trainer = Instructor
paper-name = Nombre
paper-signature = Firma
paper-date = Fecha
paper-verify = Cómo verificar este informe
paper-verified =
    Cuando se hizo este informe, la grabación se repitió desde sus mandos y { $states ->
        [one] el único estado grabado coincidió
       *[other] los { $states } estados grabados coincidieron
    } hasta el último bit.
paper-not-verified = Este programa no llegó a lo mismo cuando repitió la grabación; en otra máquina o con otra versión puede pasar. La puntuación se calcula con lo grabado; causas, imágenes y todo lo que solo se sabe al repetirla se omiten.
paper-verify-how = Quien tenga la grabación puede hacer lo mismo con este programa:
paper-hash = SHA-256 del archivo de la grabación:
paper-command = chockline replay { $file } --verify
