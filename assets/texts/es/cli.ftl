# La línea de comandos.
cli-about = Simulador de formación de la línea de rack en pendiente que alimenta tubería grande de polietileno, un tramo a la vez, a una máquina de fusión a tope
cli-usage-heading = Uso:
cli-commands = Comandos
cli-arguments = Argumentos
cli-options = Opciones
cli-lang = Idioma de todo lo que se dice: en o es
cli-help = Muestra la ayuda
cli-version = Muestra la versión
cli-value-file = ARCHIVO
cli-value-lang = IDIOMA
cli-value-n = N
cli-value-name = NOMBRE
cli-value-command = COMANDO
cli-exit-status = Código de salida: 0 aprobado, 1 la ejecución no aprobó, 2 entrada o uso incorrectos, 3 una falla del programa.

cli-help-about = Muestra la ayuda del programa o de un comando
cli-help-of = Qué comando

cli-run-about = Ejecuta un escenario sin ventana y dice qué resultó y por qué
cli-run-file = Archivo de escenario (.ron)
cli-run-operator = Quién está al mando; `chockline operators` los lista. Sin esto, el `expert`
cli-run-seed = Comienzo de toda elección al azar de la ejecución, en vez del propio del escenario: misma semilla, misma ejecución
cli-run-json = Escribe el informe para máquinas
cli-run-record = Escribe una grabación: mandos, sucesos, posiciones y huellas del estado
cli-run-trace = Escribe una tabla de cada tramo y accionamiento en el tiempo (CSV, 60 filas por segundo)

cli-check-about = Revisa archivos de escenario antes de una clase o una ejecución
cli-check-files = Archivos de escenario (.ron) que revisar
cli-check-fields = Lista todos los campos que puede tener un archivo de escenario: lo que admiten, su valor por defecto, su significado

## Lo que está mal en los argumentos.
cli-error = error: { $error }; `chockline --help` dice lo que hay
cli-no-such-language = no hay textos en el idioma '{ $code }'; hay { $codes }
cli-unknown-argument = argumento desconocido '{ $argument }'
cli-unknown-command = comando desconocido '{ $command }'
cli-missing-argument = falta: { $argument }
cli-argument-twice = '{ $argument }' se da más de una vez
cli-bad-value = '{ $value }' no es un valor para '{ $argument }'
cli-missing-value = '{ $argument }' necesita un valor
cli-not-utf-8 = un argumento no es UTF-8
cli-other = argumentos incorrectos: { $error }

## Lo que dice una ejecución además de su informe.
cli-demonstration = Sin escenario indicado: corre la demostración. `chockline --help` dice qué más hay.
cli-no-such-operator = --operator { $name }: nadie con ese nombre; hay { $names }
cli-operator-of-no-use = --operator { $name } no es aplicable a este escenario: { $why }
cli-simulating = simulando
cli-simulation-failed = la simulación falló: { $fault }; sin resultado
cli-not-json = el informe no se puede escribir como JSON: { $error }
output-unwritable = { $file }: no se puede escribir: { $error }; indicar un lugar que exista, con permiso de escritura y con espacio
output-taken = { $file }: esto ya es { $what }; dar a cada salida un archivo propio
output-scenario = el escenario
output-report = el informe
output-recording = la grabación
output-trace = la tabla

## Lo que dice una revisión de un archivo correcto.
warning = aviso: { $warning }
check-rail = { $pitch } grados ({ $surface })
check-rails = rieles { $rail }
check-two-rails = riel cercano { $near }, riel lejano { $far }
check-pin-pair = par de pernos ajustado para diámetro exterior { $od } mm
check-star-wheel = rueda estrella ajustada para diámetro exterior { $od } mm
check-row =
    { $sticks ->
        [one] 1 tramo
       *[other] { $sticks } tramos
    } de diámetro exterior { $od } mm, pared { $wall } mm, { $length } m de longitud
check-faults =
    { $file }: { $faults ->
        [one] 1 falla
       *[other] { $faults } fallas
    }
cli-examples =
    Ejemplos:
      chockline                                    la demostración: un ciclo del experto
      chockline run scenarios/first-shift.ron      el experto, con puntuación
      chockline run scenarios/wrong-size.ron --operator leaves-the-setting
      chockline operators scenarios/visitor.ron    ¿quién sirve en este escenario?
      chockline explain double-feed                por qué importa, lo correcto, la regla
      chockline score run.chock                    volver a puntuar una grabación
      chockline replay run.chock --verify          ¿se sigue todo de sus mandos?
      chockline report run.chock --out informe.html
                                                    una página para leer, imprimir y firmar
      chockline check scenarios/*.ron              ¿son correctos estos archivos?
      chockline sweep scenarios/lab/window.ron --out ventana
                                                   ¿entre qué pendientes?
      chockline check --fields                     todos los campos de un escenario
cli-run-long =
    Un operador (el experto, si no se nombra otro) prepara la línea y la maneja. El resumen da la puntuación renglón por renglón: el acto, qué resultó, el acto correcto, qué lo causó y hasta cuándo pudo evitarse; después qué ocurrió y cuándo, qué tan cerca estuvo de salir mal y qué valores se supusieron.

    El código de salida es 0 si el escenario se aprobó, 1 si no, 2 si el archivo o una salida es incorrecta.
cli-check-long =
    Se lee cada archivo, se compara cada campo con lo que se permite, y los campos entre sí. Todas las fallas se listan a la vez, como archivo:línea:columna, el campo, lo encontrado, lo que se permite y lo que quizás se quiso decir. Los avisos señalan lo que puede probarse pero no es práctica común; no hacen fallar un archivo.

    El código de salida es 0 si todos los archivos son correctos y 2 si alguno no lo es.
cli-usage = chockline [OPCIONES] [COMANDO]
cli-run-usage = chockline run [OPCIONES] <ARCHIVO>
cli-check-usage = chockline check [OPCIONES] [ARCHIVO]...
cli-help-usage = chockline help [COMANDO]

cli-score-about = Vuelve a puntuar una grabación, solo con lo que contiene
cli-score-recording = Grabación que escribió `chockline run --record`
cli-score-json = Escribe hallazgos, cifras y puntuación para máquinas
cli-operators-about = Lista quién puede estar al mando y el error que comete cada quien
cli-operators-file = Archivo de escenario (.ron): decir también quién sirve en él, y por qué los demás no
cli-explain-about = Explica un hallazgo: por qué importa, el acto correcto, la regla y su fuente
cli-explain-finding = Qué hallazgo; sin esto, se listan todos
cli-value-recording = GRABACIÓN
cli-value-finding = HALLAZGO
operators-finding = Se halla por: { $title } ({ $finding })
operators-of-use = Sirve en este escenario
operators-of-no-use = No sirve en él: { $why }
explain-unknown = no hay hallazgo '{ $name }'; existen { $names }
cli-score-usage = chockline score [OPCIONES] <GRABACIÓN>
cli-operators-usage = chockline operators [ARCHIVO]
cli-explain-usage = chockline explain [HALLAZGO]

cli-picture-about = Dibujar el patio en un momento de una ejecución
cli-picture-usage = chockline picture [OPCIONES] --out <IMAGEN> <ARCHIVO>
cli-picture-file = Escenario (.ron) o grabación (.chock)
cli-picture-at = Segundos desde el comienzo; el final si la ejecución es más corta
cli-picture-camera = Desde dónde: operator, orbit, plan, line, stick o eyes
cli-picture-size = Ancho x alto en píxeles
cli-picture-quality = Cuánto se dibuja: low, medium o high
cli-picture-stick = El tramo junto al que se pone la cámara stick; si no, el que se maneja
cli-picture-person = La persona por cuyos ojos se mira; si no, el operador
cli-picture-operator = Quién lleva el escenario hasta entonces; si no, el experto
cli-picture-seed = Cómo yacen los tramos de un escenario; si no, lo que diga el escenario
cli-picture-out = Imagen que se escribe (PNG)
cli-value-seconds = SEGUNDOS
cli-value-camera = CÁMARA
cli-value-size = ANCHOxALTO
cli-value-quality = NIVEL
cli-value-picture = IMAGEN
cli-no-such-camera = No hay ninguna cámara { $name }. Elija una de: { $names }.
cli-no-such-quality = No hay ninguna calidad { $name }. Elija una de: { $names }.
cli-no-size = { $size } no es el tamaño de una imagen. Indique ancho y alto en píxeles, como { $usual }, cada uno de 16 a { $largest }.
cli-no-moment = { $at } no es un momento de una ejecución. Indique los segundos desde su comienzo, como 12.5.

no-display = No hay pantalla en la que abrir una ventana: DISPLAY no está definida. Inicie el programa desde un escritorio.
no-window = El sistema de ventanas no abrió ninguna ventana. Dijo: { $said }
no-adapter = No se puede usar ningún adaptador gráfico. En Linux hace falta un controlador Vulkan: el de la tarjeta gráfica, o mesa-vulkan-drivers para dibujar con el procesador.
adapter-too-old = El adaptador gráfico { $adapter } no puede dibujar el patio. Le falta: { $lacks }. Puede ayudar un controlador más nuevo; también mesa-vulkan-drivers, que dibuja con el procesador.
no-picture = No se pudo dibujar la imagen. { $said }
## El laboratorio.
cli-sweep-about = Ejecutar los ensayos de un archivo de barrido y decir dónde la línea alimenta un tramo cada vez
cli-sweep-usage = chockline sweep [OPCIONES] --out <CARPETA> <ARCHIVO>
cli-sweep-file = Archivo de barrido (.ron); en scenarios/lab hay algunos
cli-sweep-out = Carpeta para rows.csv, answer.html, answer.json y los gráficos
cli-sweep-resume = Seguir con lo que ya hay en la carpeta
cli-sweep-part = Ejecutar una parte, I/N, en esta máquina; /N o array toman el número de una serie de trabajos
cli-sweep-threads = Cuántos ensayos corren a la vez; 0 es uno por núcleo
cli-sweep-long =
    Cada ensayo carga una fila al azar, alimenta un tramo y termina cuando es seguro en qué acabó. Ctrl-C termina los ensayos en curso y guarda todas las filas.

    El estado de salida es 0 cuando la respuesta está escrita, 1 si se detuvo antes, 2 si el archivo o la carpeta no sirven.
cli-merge-about = Unir las partes de un barrido, y responder
cli-merge-usage = chockline merge --out <CARPETA> <ARCHIVO> <CARPETA>...
cli-merge-file = El archivo de barrido del que salieron las partes
cli-merge-parts = Carpetas de todas las partes
cli-merge-out = Carpeta para el conjunto
cli-window-about = Buscar los extremos de la ventana de un barrido con los menos ensayos posibles
cli-window-usage = chockline window [OPCIONES] <ARCHIVO>
cli-window-file = Archivo de barrido (.ron) con límites
cli-window-within = Con qué exactitud, en la unidad de aquello frente a lo que se dibuja
cli-window-threads = Cuántos ensayos corren a la vez; 0 es uno por núcleo
cli-value-folder = CARPETA
cli-value-part = PARTE
cli-value-step = PASO
