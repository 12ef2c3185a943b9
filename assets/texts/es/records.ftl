# Registros de personas, clases e intentos.
records-line = { $text }
records-name = { $name }
records-name-number = { $name } #{ $number }
records-nobody = (sin nombre)

## Qué está mal.
records-locked = { $file }: otro programa está escribiendo en los registros; tras diez segundos no se escribió nada, y nada se ha perdido. Inténtelo de nuevo; si sigue así, cierre el otro programa.
records-read-only = { $file }: no se puede escribir en los registros; no se cambió nada. Dese permiso de escritura sobre el archivo y su carpeta.
records-cannot-open = { $file }: no se pueden abrir los registros. Indique un lugar que exista y en el que pueda leer y escribir.
records-disk = { $file }: el disco no lo admite: { $error }. No se escribió nada de esto; lo que había antes está entero. Haga sitio, o use otro disco, y repítalo.
records-damaged = { $file }: no es un archivo de registros, o está dañado: { $error }. No se cambió nada. Una copia se repone con `chockline records restore COPIA`.
records-database = { $file }: la base de datos dice que no: { $error }. No se cambió nada.
records-newer = { $file }: estos registros son de la versión { $version }, y este programa conoce como mucho la versión { $known }. No se cambió nada. Use el programa más nuevo.
records-foreign = { $file }: una base de datos, pero no de los registros de Chockline, o una que otra cosa ha cambiado. No se cambió nada.
records-file = { $file }: { $error }
records-none-yet = { $file }: todavía no hay registros. Empiezan con la primera evaluación, o con `chockline records add` o `import`.
records-shared-disk = { $file } está en un disco de otra máquina ({ $kind }). Allí puede usarlo una máquina a la vez; varias al mismo tiempo no están admitidas, porque los bloqueos por red no siempre valen y podrían perderse registros. Deje que cada máquina guarde los suyos y reúnalos con `chockline records import`.
records-bad-name = '{ $name }' no es un nombre: una línea de 1 a { $longest } caracteres que no empiece por = + - ni @
records-no-person = nadie se llama '{ $name }'; `chockline records list people` los enumera a todos
records-several-people = varias personas se llaman '{ $name }'; dé también el número, como NOMBRE#NÚMERO: { $numbers }
records-no-class = no hay ninguna clase '{ $name }'; `chockline records list classes` las enumera
records-no-attempt = no hay ningún intento '{ $attempt }'; `chockline records list` los enumera
records-several-attempts = más de un intento empieza por '{ $attempt }'; dé más cifras
records-no-reason = una corrección necesita un motivo: dígalo con --why
records-nobody-signs = quien responde por ello necesita un nombre: delo con --by
records-sign-off-void = este intento no cuenta, así que nadie puede firmarlo
records-due-nobody = este intento no lleva el nombre de nadie, así que nadie puede quedar citado
records-clock-back = el reloj de esta máquina dice { $now }, y el intento empezó a las { $began }. Ponga el reloj en hora y repítalo; no se escribió nada.
records-add-nothing = nadie que añadir: dé nombres, o una clase con --class
records-number-of-one = un número es de una sola persona: dé un solo nombre con él
records-forget-sure = Esto borra para siempre quién fue { $name }; los intentos quedan como de nadie. Para hacerlo, añada --yes.
records-not-carried = { $file }: no se pueden incorporar estos registros: { $why }. No se cambió nada.
records-too-large = el archivo es demasiado grande
records-not-json = { $error }
records-other-format = son del formato { $format }, y este programa conoce el { $known }
records-cannot-be = el intento { $attempt } tiene un resultado imposible
certificate-none = no hay certificado de un intento que no cuenta

## Qué se hizo.
records-nothing = Todavía no hay nada.
records-row-passed = { $id }  { $date }  aprobado     { $points }  { $name }  { $exercise }
records-row-failed = { $id }  { $date }  no aprobado  { $points }  { $name }  { $exercise }
records-row-fault = { $id }  { $date }  fallo        { $points }  { $name }  { $exercise }
records-show =
    { $id }
      Ejercicio { $scenario } (texto { $hash }), semilla { $seed }, programa { $program }
      { $duration } s, { $breaks ->
        [0] sin pausas
        [one] 1 pausa
       *[other] { $breaks } pausas
    }
      Grabación { $recording }
records-class = { $name }: { $people ->
    [one] 1 persona
   *[other] { $people } personas
}
records-due-row = { $date }  { $name }  { $exercise }
records-due-on = Debe volver el { $date }
records-due-set = { $name } debe volver el { $date }.
records-signed = Firmado por { $by }, { $date } { $note }
records-signed-off = { $attempt } queda firmado por { $by }.
records-corrected = { $attempt } queda corregido; lo que había antes sigue escrito.
records-corrected-void = no cuenta
records-corrected-person = lo hizo { $person }
records-corrected-note = nota
records-added = { $new ->
    [one] 1 persona añadida
   *[other] { $new } personas añadidas
}.
records-added-class = { $new ->
    [one] 1 persona añadida
   *[other] { $new } personas añadidas
}; la clase { $name } tiene { $people }.
records-forgotten = Aquí queda olvidado quién fue { $name }; los intentos quedan como de nadie.
records-forget-recordings = Las grabaciones de esos intentos todavía pueden decir quién fue; bórrelas: { $files }
records-forget-elsewhere = Esto no alcanza a: copias, exportaciones, páginas, registros de otras máquinas y lo enviado a un almacén de registros. Ocúpese usted de ello.
records-written = { $file } está escrito.
records-taken-in = { $file }: { $attempts ->
    [one] 1 intento incorporado
   *[other] { $attempts } intentos incorporados
}, { $known } ya conocidos; personas nuevas: { $people }; correcciones y firmas nuevas: { $remarks }
records-differs = El intento { $attempt } ya está aquí con otro resultado; vale el de aquí. Averigüe cuál es el correcto.
records-taken-as-is = Los resultados se incorporan tal como fueron escritos. Lo que prueba un recorrido es su grabación: `chockline replay GRABACIÓN`.
records-restored = { $file } está como estaba en { $from }.
records-restore-kept = Los registros anteriores se conservan como { $file }.
records-checked = { $file }: { $attempts ->
    [one] 1 intento
   *[other] { $attempts } intentos
}, versión { $version }
records-own-disk = Está en un disco de esta máquina; varios programas pueden escribir en él a la vez.
records-clock-went-back = El reloj se atrasó { $times ->
    [one] una vez
   *[other] { $times } veces
} entre dos intentos: las horas pueden estar mal, y el orden es el de escritura.
records-sound = Está en buen estado.
records-unsound = Está dañado; reponga una copia con `chockline records restore COPIA`. La base de datos dice:
output-records = los registros

## Una clase de un vistazo.
summary-class = Clase { $name }
summary-everybody = Todos
summary-head = { $who }: { $people ->
    [one] 1 persona
   *[other] { $people } personas
}, { $attempts ->
    [one] 1 intento
   *[other] { $attempts } intentos
}
summary-nobodys = { $attempts ->
    [one] 1 intento
   *[other] { $attempts } intentos
} sin nombre
summary-exercises = Quién aprobó qué
summary-earlier = { $text } (ya no se enseña en esta forma)
summary-exercise = { $title }: intentado por { $tried }, aprobado por { $passed }, dominado por { $mastered } ({ $attempts ->
    [one] 1 intento
   *[other] { $attempts } intentos
})
summary-people = Personas
summary-person = { $name }: { $attempts ->
    [one] 1 intento
   *[other] { $attempts } intentos
}, aprobados { $passed }, dominados { $mastered }
summary-person-open = { $person }; sin aprobar todavía: { $open }
summary-findings = Lo que más se halla
summary-finding = { $title }: { $people ->
    [one] 1 persona
   *[other] { $people } personas
}, { $times ->
    [one] una vez
   *[other] { $times } veces
}, { $points } puntos
summary-rounds = De intento en intento en un mismo ejercicio
summary-round = intento { $nth }: { $passed } % aprobados, { $points } puntos de media ({ $attempts ->
    [one] 1 intento
   *[other] { $attempts } intentos
})
summary-round-last = intento { $nth } y siguientes: { $passed } % aprobados, { $points } puntos de media ({ $attempts ->
    [one] 1 intento
   *[other] { $attempts } intentos
})
summary-next = Qué enseñar ahora
summary-open = { $title }: todavía en el último intento de { $people ->
    [one] 1 persona
   *[other] { $people } personas
}
summary-open-right = { $open }. Lo correcto: { $right }
summary-next-exercise = Ejercicio siguiente: { $title }, dominado por { $mastered } de { $people } (aprobado dos veces, con semillas distintas)

## Declaraciones y su envío.
xapi-attempted = intentó
xapi-passed = aprobó
xapi-failed = no aprobó
xapi-completed = completó
xapi-voided = anuló
send-no-address = '{ $address }' no es la dirección de un almacén de registros: dela como https://SERVIDOR/RUTA, sin usuario, interrogación ni almohadilla
send-in-clear = { $address }: la contraseña iría por una línea abierta; dé una dirección que empiece por https://
send-no-certificate = { $file }: allí no se pueden leer certificados: { $error }
send-no-password = No hay contraseña: ponga la variable de entorno { $variable }, o llame al programa desde un terminal, donde la pregunta. No se guarda.
send-password = Contraseña del almacén de registros:{" "}
send-busy = Otro programa está enviando desde estos registros; espere a que termine.
send-no-answer = el almacén de registros no responde: { $error }
send-later = el almacén de registros no puede admitirlo ahora ({ $status }): { $answer }
send-not-allowed = El almacén de registros no conoce el usuario y la contraseña, o no lo permite ({ $status }): { $answer }
send-elsewhere = El almacén de registros dice que está en otro sitio ({ $status }): { $answer }. Dé su propia dirección; no se envía nada a otra.
send-no-store-there = En esta dirección no hay ningún almacén de registros ({ $status }): { $answer }
send-odd-answer = El almacén de registros da una respuesta que no dice nada ({ $status }): { $answer }
send-waits = { $why }; otra vez dentro de { $seconds } s
send-sent = { $sent ->
    [one] 1 declaración enviada
   *[other] { $sent } declaraciones enviadas
}, { $already } ya estaban allí, { $waiting } esperan
send-nobodys = { $attempts ->
    [one] 1 intento
   *[other] { $attempts } intentos
} sin nombre: de nadie no se declara nada
send-refused = { $refused ->
    [one] 1 declaración no es admitida
   *[other] { $refused } declaraciones no son admitidas
} por el almacén de registros, la última porque: { $answer }
send-again = Lo que espera queda guardado en los registros; repita la orden para enviarlo. Nada se envía dos veces: cada declaración tiene un identificador para siempre.

## La página sobre un intento.
certificate-title = Certificado de intento
certificate-what = Un resultado en un simulador. Dice qué se intentó y qué resultó, y nada más.
certificate-trainee = Alumno
certificate-exercise = Ejercicio
certificate-trains = Qué ejercita
certificate-at = Empezado
certificate-duration = Duró
certificate-lasted = { $minutes } min, { $breaks ->
    [0] sin pausas
    [one] 1 pausa
   *[other] { $breaks } pausas
}
certificate-version = Versión
certificate-version-is = Chockline { $program }; ejercicio { $scenario }, texto { $hash }, semilla { $seed }
certificate-due = Debe volver
certificate-passed = APROBADO: { $points } de 100 puntos (mínimo { $mark })
certificate-failed = NO APROBADO: { $points } de 100 puntos (mínimo { $mark })
certificate-findings = Hallazgos
certificate-time = Tiempo
certificate-finding = Hallazgo
certificate-severity = Gravedad
certificate-points = Puntos
certificate-corrections = Correcciones
certificate-correction = { $date }: { $what }, por { $by }: { $why }
certificate-no-evaluation = El tiempo en un simulador no sustituye la evaluación en el puesto de trabajo. Esta página no cualifica ni autoriza a nadie; quien emplea al alumno lo evalúa en la máquina y en el lugar donde trabaja.
certificate-evaluator = Evaluador
certificate-signed = Firmado por { $by }, { $date }.
certificate-unsigned = Sin firma en los registros.
certificate-evaluator-signs = Evaluador, fecha:
certificate-trainee-signs = Alumno, fecha:
certificate-id = Intento { $attempt }. Grabación { $recording }

## La orden.
cli-records-about = Lo que se guarda de personas, clases e intentos: mirar, firmar, exportar, enviar
cli-records-usage = chockline records [OPCIONES] [ORDEN]
cli-records-long =
    Cada evaluación en la ventana se guarda como un intento, con sus hallazgos, en un archivo. A los intentos solo se añade: lo que estaba mal en uno lo arregla una corrección que dice por qué. Sin orden, se enumeran los intentos.

    De las personas los registros guardan un nombre, un número cuando dos tienen el mismo, sus clases y lo que hicieron. En los motivos y notas no van nombres.
cli-records-store = Archivo de los registros, en vez del de la carpeta de datos
cli-value-store = REGISTROS
cli-value-what = QUÉ
cli-value-person = PERSONA
cli-value-class = CLASE
cli-value-exercise = EJERCICIO
cli-value-attempt = INTENTO
cli-value-text = TEXTO
cli-value-date = FECHA
cli-value-address = DIRECCIÓN
cli-records-list-about = Enumerar intentos, personas, clases o quién debe volver
cli-records-list-usage = chockline records list [OPCIONES] [QUÉ]
cli-records-list-kind = attempts (si no se dice nada), people, classes o due
cli-records-list-person = De una persona: NOMBRE, o NOMBRE#NÚMERO
cli-records-list-class = De una clase
cli-records-list-exercise = En un ejercicio, por el nombre de su archivo sin .ron
cli-records-show-about = Mostrar todo lo que hay de un intento
cli-records-show-usage = chockline records show <INTENTO>
cli-records-show-attempt = Por su identificador, sus primeras cifras, o el nombre de su grabación sin extensión
cli-records-summary-about = Resumir una clase: quién aprobó qué, qué se halla más, cómo evoluciona, qué enseñar ahora
cli-records-summary-usage = chockline records summary [OPCIONES]
cli-records-summary-class = Qué clase; sin ella, todos
cli-records-summary-json = Escribirlo también para máquinas
cli-records-add-about = Añadir personas, una clase, o personas a una clase
cli-records-add-usage = chockline records add [OPCIONES] [NOMBRE]...
cli-records-add-people = Nombres; quien ya está no se añade otra vez
cli-records-add-number = Distingue a personas de un mismo nombre
cli-records-add-class = La clase en la que están, que se crea si es nueva
cli-records-sign-off-about = Responder por un intento como su evaluador
cli-records-sign-off-usage = chockline records sign-off [OPCIONES] --by <NOMBRE> <INTENTO>
cli-records-sign-off-attempt = Qué intento
cli-records-sign-off-by = El evaluador
cli-records-sign-off-note = Lo que el evaluador tiene que decir; sin nombres
cli-records-sign-off-due = Cuándo debe volver el alumno a este ejercicio, como AAAA-MM-DD
cli-records-due-about = Decir cuándo debe volver alguien
cli-records-due-usage = chockline records due [OPCIONES] <PERSONA> <FECHA>
cli-records-due-person = Quién: NOMBRE, o NOMBRE#NÚMERO
cli-records-due-on = Cuándo, como AAAA-MM-DD
cli-records-due-exercise = A qué ejercicio; sin él, a todo
cli-records-correct-about = Corregir un intento; queda escrito, y la corrección dice por qué
cli-records-correct-usage = chockline records correct [OPCIONES] --why <TEXTO> --by <NOMBRE> <INTENTO>
cli-records-correct-attempt = Qué intento
cli-records-correct-why = Por qué; sin nombres
cli-records-correct-by = Quién lo dice
cli-records-correct-void = No cuenta
cli-records-correct-person = Era de otra persona
cli-records-certificate-about = Escribir una página sobre un intento, para imprimir
cli-records-certificate-usage = chockline records certificate --out <PÁGINA> <INTENTO>
cli-records-certificate-attempt = Qué intento
cli-records-certificate-out = Página que escribir (HTML, un archivo)
cli-records-export-about = Escribir intentos como tabla, como declaraciones xAPI, o para llevarlos a otra máquina
cli-records-export-usage = chockline records export [OPCIONES]
cli-records-export-csv = Tabla (CSV según RFC 4180)
cli-records-export-xapi = Declaraciones (xAPI 1.0.3) como lista JSON
cli-records-export-records = Registros para `chockline records import` en otra máquina
cli-records-export-class = De una clase; sin ella, todos
cli-records-import-about = Incorporar registros de otras máquinas; hacerlo dos veces no cambia nada
cli-records-import-usage = chockline records import <ARCHIVO>...
cli-records-import-files = Registros que escribió `export --records`, o el records.sqlite o una copia de otra máquina
cli-records-send-about = Enviar intentos a un almacén de registros como declaraciones xAPI
cli-records-send-usage = chockline records send [OPCIONES] --to <DIRECCIÓN> --user <NOMBRE>
cli-records-send-long =
    La contraseña se toma de la variable de entorno CHOCKLINE_PASSWORD, o se pregunta. Lo que no puede enviarse ahora espera en los registros hasta que se repite la orden. Una declaración tiene un identificador para siempre, de modo que una cuya respuesta se perdió por el camino puede enviarse otra vez sin estar allí dos veces.

    Las personas van por un identificador, nunca por su nombre.
cli-records-send-to = Dirección del almacén de registros, bajo la que tiene sus declaraciones
cli-records-send-user = Usuario del almacén de registros
cli-records-send-certificates = Certificados (PEM) en los que confiar en vez de los habituales, cuando el almacén es propio
cli-records-send-class = De una clase; sin ella, todos
cli-records-send-tries = Cuántas veces se intenta algo antes de dejarlo para otro momento
cli-records-backup-about = Escribir una copia de los registros, también mientras otros escriben en ellos
cli-records-backup-usage = chockline records backup <ARCHIVO>
cli-records-backup-to = Archivo que escribir; no debe haber ninguno con ese nombre
cli-records-restore-about = Poner una copia en el lugar de los registros; estos se conservan al lado
cli-records-restore-usage = chockline records restore <ARCHIVO>
cli-records-restore-from = Copia
cli-records-check-about = Revisar todo el archivo de los registros
cli-records-check-usage = chockline records check
cli-records-forget-about = Borrar quién fue alguien; sus intentos quedan como de nadie
cli-records-forget-usage = chockline records forget [OPCIONES] <PERSONA>
cli-records-forget-person = Quién: NOMBRE, o NOMBRE#NÚMERO
cli-records-forget-yes = Hacerlo; no se puede deshacer
