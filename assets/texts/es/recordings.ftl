# Grabaciones: leerlas, volver a ejecutarlas y lo que eso prueba.

recording-bad = { $file }: { $error }
recording-unreadable = no se puede leer: { $error }
recording-none = no es una grabación de este programa
recording-other-format = una grabación de formato { $format }; este programa lee el formato { $known }
recording-newer-format = una grabación de formato { $format }, de un programa más nuevo; este lee el formato { $known }: use uno más nuevo
recording-too-large = mayor que cualquier grabación ({ $most } MiB)
recording-damaged = cambiada o dañada desde el byte { $byte }; estuvo completa, así que nada de ella es fiable: use otra copia
recording-unsound = lo que hay en el byte { $byte } no lo escribió este programa; nada de ella es fiable
recording-scenario = el escenario que contiene no es correcto: { $fault }
recording-set-out = la preparación que contiene no es posible: { $fault }
recording-log = su registro no corresponde a su escenario: el archivo fue cambiado o está dañado
recording-cut-short =
    Cortada: el programa o la corriente falló a los { $time } s (paso { $tick }) o poco después.{ $bytes ->
        [0] {""}
       *[other] {" "}Los últimos { $bytes } bytes no se escribieron del todo y se dejan fuera.
    }
leftover-unreadable = { $file }: el comienzo de una grabación que no se puede leer: { $error }; se aparta

cli-replay-about = Dice qué contiene una grabación y qué pasa en ella; prueba que es cierta
cli-replay-recording = Grabación de una ejecución, de la ventana o de `chockline run --record`
cli-replay-verify = Compara cada estado, suceso y posición con aquello a lo que llevan sus mandos
cli-replay-usage = chockline replay [OPCIONES] <GRABACIÓN>
cli-replay-long =
    El escenario, la preparación y los mandos de la grabación se simulan de nuevo.

    Con --verify, cada huella de estado, posición, suceso y muestra, el desenlace y la puntuación deben ser como se grabaron, hasta el último bit; si no, se dice tras qué paso y en qué parte se aparta la ejecución. Si la grabación es de otra versión o de otra clase de máquina, los bits pueden diferir: entonces la puntuación se halla de nuevo a partir del registro de la grabación, los sucesos se comparan con sus posiciones, y se dice qué quedó probado.

    El código de salida es 0 si todo queda verificado (sin --verify: si la ejecución aprobó), 1 si algo no es como se grabó (si no aprobó), 2 si la grabación no se puede leer, 4 si se hizo donde los bits pueden diferir y solo se probaron puntuación y posiciones, 5 si quedó cortada y todo lo que hay de ella queda verificado.
replay-of = { $course }, semilla { $seed }; { $mode }; operador '{ $operator }'
replay-trainee = Aprendiz: { $trainee }
replay-made = Comenzada { $at }, grabada por { $program } { $version } en { $platform }
replay-checksum = Suma de comprobación { $checksum }
replay-passed = Grabada como aprobada: { $points } de 100 puntos; { $outcome }
replay-failed = Grabada como no aprobada: { $points } de 100 puntos; { $outcome }
replay-event = { $time } s  { $event }
replay-ends = { $time } s  el final (paso { $tick })
replay-verified =
    Verificada: { $states ->
        [one] 1 estado coincide
       *[other] los { $states } estados coinciden
    } hasta el último bit, hasta el paso { $tick } ({ $time } s), y también posiciones, sucesos, muestras, desenlace y puntuación.
replay-verified-so-far =
    Verificada hasta donde llega: { $states ->
        [one] 1 estado coincide
       *[other] los { $states } estados coinciden
    } hasta el último bit, hasta el paso { $tick } ({ $time } s), y también posiciones, sucesos y muestras. No contiene desenlace ni puntuación.
replay-departs = Se aparta de la grabación en el paso { $tick } ({ $time } s): { $body } no está como se grabó.
replay-departs-too = En el mismo segundo también: { $body }
replay-departs-somewhere = Se aparta de la grabación en el paso { $tick } ({ $time } s).
replay-poses = Todos los estados coinciden, pero en el paso { $tick } ({ $time } s) la posición grabada de { $body } es otra.
replay-log = Todos los estados coinciden, pero sucesos o muestras no son como se grabaron.
replay-outcome = Todos los estados coinciden, pero el desenlace no es como se grabó.
replay-score = Todos los estados coinciden, pero la puntuación no es como se grabó.
replay-not-verified = NO VERIFICADA: este programa da los mismos bits que el que la grabó, así que la grabación no es aquello a lo que llevan sus mandos.
replay-other-bits = La grabó otra versión u otra clase de máquina: los bits pueden diferir, así que apartarse no prueba nada.
replay-score-follows = Probado: desenlace, hallazgos y puntos grabados se siguen del registro de la grabación.
replay-score-does-not-follow = NO ES ASÍ: los hallazgos y puntos grabados no se siguen del registro de la grabación.
replay-no-score = No contiene puntuación que probar.
replay-poses-fit =
    Probado: { $events ->
        [one] 1 suceso ocurrió
       *[other] los { $events } sucesos con lugar ocurrieron
    } donde las { $poses } posiciones grabadas tienen el tramo.
replay-contradicted = NO ES ASÍ: el suceso del paso { $tick } ({ $time } s) no está donde las posiciones grabadas tienen su tramo.
replay-looks-alike = Ejecutada aquí de nuevo se ve igual: ningún tramo está nunca a más de 10 mm de donde estaba.
replay-looks-other = Ejecutada aquí de nuevo se ve igual hasta el paso { $tick } ({ $time } s): entonces un tramo está a más de 10 mm de donde estaba.
replay-not-proved = No probado aquí: que los mandos lleven a todo esto. Verifíquela con la versión que la grabó, en una máquina de esa clase.

body-rack = la rampa
body-escapement = el escape
body-receiver = el receptor
body-cradles = las cunas
body-machine = la máquina de fusión
body-loader = el cargador
body-chocks = las cuñas
body-people = las personas
body-zone = quién está en la zona
recording-part-stands = Lo que hay de la grabación está en { $file }.
