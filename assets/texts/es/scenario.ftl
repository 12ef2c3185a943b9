# Lo que está mal en un archivo de escenario, y lo que se permite.
fault-allowed = { $what }; se permite: { $allowed }
fault-meant = { $what }; ¿quizás { $meant }?
range = { $min } a { $max }
amount = { $amount } { $unit }
unit-deg = grados
unit-in = pulg
unit-points = puntos
list-or = { $list } o { $last }

## El archivo.
unreadable = no se puede leer: { $error }
unreadable-directory = esto es una carpeta; se permite: un archivo de escenario
unreadable-irregular = esto no es un archivo común; se permite: un archivo de escenario
unreadable-missing = no existe ese archivo
unreadable-forbidden = no hay permiso para leerlo
fault-too-large = el archivo es mayor que 1 MiB
allowed-bytes = a lo sumo { $largest } bytes
fault-utf-16 = el archivo está codificado en UTF-16
fault-not-utf-8 = el byte { $byte } en la posición { $at } no es UTF-8
allowed-utf-8 = UTF-8; guardarlo de nuevo con esa codificación
fault-nul = un byte NUL en la posición { $at }
allowed-text-only = solo texto; ¿es un archivo binario o UTF-16?
fault-not-read = lectura imposible: { $error }

## Su escritura.
fault-empty-file = el archivo está vacío
allowed-one-scenario = un escenario: ( format: 1, name: …, pipe: ( … ), … )
fault-after-end = { $found } después del fin del escenario
allowed-only-comments = solo comentarios después del último ')'
fault-comment-unended = aquí comienza un comentario que nunca termina
allowed-comment = /* … */, con un '*/' propio para cada '/*' de adentro
fault-attribute = un atributo que los archivos de escenario no usan
allowed-attribute = #![enable(implicit_some)], o ninguno
fault-value-missing = el archivo termina donde debería haber un valor
allowed-value-and-close = un valor, y los paréntesis que cierran
fault-byte-string = una cadena de bytes
allowed-quoted = un texto entre comillas dobles
fault-map = un mapa entre llaves
allowed-round-brackets = un grupo entre paréntesis: ( campo: valor, … )
fault-quote = la comilla { $found }
allowed-plain-quotes = un texto entre comillas dobles rectas: "…"
fault-no-value = { $found } donde debería haber un valor
allowed-value = un número, una palabra, un texto, true, false, ( … ) o [ … ]
fault-too-deep = paréntesis anidados a más de { $deepest } niveles
allowed-depth = a lo sumo { $deepest } uno dentro de otro
fault-no-name = { $found } donde debería estar el nombre de un campo
allowed-decimal-point = punto decimal, no coma, en un número: 5.5
allowed-name-value = nombre: valor
fault-after-name = { $found } después del nombre '{ $name }'
allowed-colon = dos puntos: nombre: valor
fault-unclosed = el archivo termina dentro del '{ $bracket }' de la línea { $line }
allowed-close = '{ $close }' antes del final
fault-after-value = { $found } justo después de un valor
allowed-comma-or-close = ',' o '{ $close }'
fault-not-a-number = '{ $written }' no es un número
allowed-digits = solo cifras, como 5, -2.5 o 1e3; la unidad está en el nombre del campo
fault-text-unended = aquí comienza un texto que nunca termina
allowed-closing-quote = una '"' que cierre
fault-escape = una secuencia '\' desconocida en un texto
fault-raw-text = 'r#' que no comienza ningún texto literal
found-end-of-file = el fin del archivo

## Sus campos.
fault-unlisted =
    y { $count ->
        [one] 1 falla más, no listada
       *[other] { $count } fallas más, no listadas
    }
fault-word-before-group = la palabra '{ $word }' antes de un grupo
allowed-no-word = ( nombre: valor, … ) y ninguna palabra
fault-found = se encontró { $found }
found-group = un grupo
found-list = una lista
found-text = el texto { $text }
allowed-group = un grupo de campos: ( nombre: valor, … )
allowed-list = una lista de grupos: [ ( nombre: valor, … ), … ]
fault-twice = dado dos veces, primero en la línea { $line }
allowed-once = cada campo una vez
fault-missing = falta
fault-no-such-field = no existe ese campo
fault-control-character = se encontró el carácter de control { $character } en un texto
fault-long-text = se encontró un texto de { $length } caracteres
fault-unusual = { $value }: { $why }
meant-without-quotes = { $value } sin comillas
allowed-whole-number = un número entero, { $min } a { $max }
allowed-flag = true o false
allowed-title = un texto entre comillas, una línea, 1 a { $longest } caracteres
allowed-prose = un texto entre comillas, a lo sumo { $longest } caracteres
allowed-measure = { $word }(…) con { $values }
allowed-either = { $one }; { $other }

## Cómo encajan sus campos.
allowed-at-least-m = { $least } m o más
allowed-at-most-m = { $most } m o menos
fault-no-such-pipe = no existe esa tubería
fault-wall = una pared de { $wall } mm en un tubo de { $pipe } mm es DR { $ratio }
allowed-wall = { $least } a { $most } mm, es decir DR { $from } a { $to }
fault-stick-beyond-row = tramo { $stick } de una fila de { $sticks }
fault-second-override = el tramo { $stick } ya tiene valores propios
allowed-one-override = uno por tramo

## El rack y su fila.
fault-wheel-size = el tramo { $stick } tiene un diámetro exterior de { $pipe } mm, la rueda está ajustada para { $wheel } mm
allowed-wheel-size = el tamaño de la propia rueda: otros tramos no caben entre sus rayos, o escapement.kind: PinPair
fault-wheel-gap = { $gap } mm antes del primer tramo, dispersión incluida
allowed-wheel-gap = 0 a { $most } mm: el primer tramo está en la muesca de la rueda, o escapement.kind: PinPair
fault-wheel-pins = una rueda estrella no tiene pernos
allowed-wheel-pins = false, o escapement.kind: PinPair
fault-rail-spacing = rieles a { $spacing } m uno del otro bajo un tramo de { $length } m (número { $stick })
allowed-rail-spacing = { $least } m o más, y menos de { $less } m
fault-off-rail = el tramo { $stick } está a { $off } m del medio y no apoya en un riel
allowed-on-rails = -{ $most } a { $most } m con estos rieles
fault-overlaps-gate = el tramo { $stick }, desviado { $yaw } grados, se superpone con la compuerta con una separación de { $gap } mm
fault-overlaps-stick = el tramo { $stick }, desviado { $yaw } grados, se superpone con el tramo { $other } con una separación de { $gap } mm
allowed-gap = { $least } mm o más para este tramo
fault-rack-short = un rack de { $length } m es demasiado corto para una fila de { $row }
fault-and-loader = { $what } y { $sticks } del cargador
fault-and-forks = { $what }, cuyas horquillas llegan { $beyond } m más allá de un tramo
allowed-or-shorter-forks = { $allowed }, u horquillas más cortas
fault-ground-over-row = con un pie de rack a { $toe } m de altura, el suelo sube { $over } m por encima de donde están los tramos
allowed-or-less-fall = { $allowed }, o un suelo con menos caída
fault-no-room-for-receiver = un pie de rack a { $toe } m de altura no deja lugar para un receptor que recorre { $travel } m
allowed-travel = { $allowed } a esa altura
allowed-toe = { $allowed } con ese recorrido
warning-pitches-apart = las pendientes de los rieles difieren { $apart } grados; se ajustan iguales
warning-size-setting = ajustado para { $setting }, y la tubería es { $pipe }
warning-interlock = el enclavamiento con el receptor está anulado
warning-rated-load = los tramos pesan { $load } kN, y el rack admite { $rated } kN
warning-slipperiness = { $friction } es más que el { $rougher } del { $surface }
dry-steel = acero seco
wet-steel = acero mojado
frosted-steel = acero con escarcha
dry-rubber = caucho seco
wet-rubber = caucho mojado
frosted-rubber = caucho con escarcha

## Las cunas y la máquina.
fault-cradles-apart = cunas a { $spacing } m una de otra bajo un tramo de { $length } m
warning-short-of-cradles = el tramo { $stick } de { $length } m no llega a ambas cunas
warning-off-cradles = el tramo { $stick }, a { $off } m del medio, no llega a ambas cunas
fault-cradles-rise-into = las cunas a { $spacing } m una de otra chocan al subir con { $steel }
allowed-less-or-more = { $less }, o { $more }
allowed-rails-elsewhere = rieles en otro lugar, o { $field }: { $allowed }
steel-arms = los brazos del receptor
steel-pins = los pernos o ruedas
steel-rails = los rieles
fault-near-cradle-under-ground = con un pie de rack a { $toe } m de altura, la cuna cercana abajo queda { $under } m bajo el suelo
fault-far-cradle-under-ground = con un pie de rack a { $toe } m de altura, la cuna lejana abajo queda { $under } m bajo el suelo
fault-machine-over = el extremo de la máquina queda { $over } mm sobre { $steel }
allowed-rails-closer = rieles más juntos, o { $field }: { $allowed }
steel-rail-near = el riel cercano
steel-rail-far = el riel lejano
steel-arm-near = el brazo cercano del receptor
steel-arm-far = el brazo lejano del receptor
steel-cradle-near = la cuna cercana
steel-cradle-far = la cuna lejana
steel-machine = la máquina de fusión
steel-loader = el cargador estacionado
fault-centreline = un eje a { $height } m de altura, y los elevadores llevan este tubo de { $low } a { $high } m
allowed-centreline = { $low } a { $high } m
warning-spacing = a { $spacing } m una de otra: la práctica común es { $wanted } m para este tramo
warning-cradles = cunas { $what }
warning-of-stick = tramo { $stick } de { $length } m: { $what }
warning-into-machine = un tramo asentado entra { $into } m en la máquina
warning-tail-off = tras el avance, la cola queda a { $off } m fuera de la cuna lejana
warning-tail-short = tras el avance, la cola sobresale { $beyond } m de la cuna lejana; la práctica común es { $needed } m o más
warning-tips = tras el avance, el medio del tramo queda { $beyond } m más allá de la cuna cercana: vuelca
warning-stick-into-machine = el tramo { $stick }, asentado tal como está, entra { $into } m en la máquina
warning-side-shift = a { $off } mm del centro de la línea, y el desplazador lateral cubre { $covers } mm a cada lado

## El cargador, la gente, la zona.
fault-sticks-in-all = una fila de { $row } y { $sticks } del cargador
allowed-sticks-in-all = { $all } en total, es decir 0 a { $most }
fault-forks-apart = horquillas a { $spread } m una de otra en un espacio de { $room } m entre los rieles
fault-forks-off = { $what }, a { $off } m de su medio
allowed-forks = rieles más separados, u horquillas más cerca de su medio
warning-capacity = un tramo de { $mass } kg, a { $before } m de la cara de las horquillas, donde cargan { $carries } kg
warning-fork-length = { $length } m bajo un tramo de diámetro exterior { $pipe } m: la práctica común es dos tercios del diámetro, { $least } m, o más
warning-braking = frenado a { $braking } m/s² con las horquillas inclinadas hacia atrás { $tilt } grados
warning-on-falling-ground = { $what } en suelo que cae { $fall } grados hacia la línea
warning-on-rising-ground = { $what } en suelo que sube { $fall } grados hacia la línea
warning-leaves-face = { $what }: desde { $from } m/s² un tramo se separa de la cara de las horquillas
warning-never-at-face = { $what }: un tramo no se queda en la cara de las horquillas ni siquiera sin frenar
fault-people = { $people } personas
fault-path = un camino de { $points } puntos
allowed-and-fewer = { $most } o menos
fault-second-operator = un segundo operador
fault-second-spotter = un segundo vigía
allowed-one = uno
fault-place-in-steel = este lugar está en { $steel }
allowed-place = un lugar fuera, que ocupa { $extent }
fault-way-through-steel = el camino hasta ahí atraviesa { $steel }
allowed-way = un camino alrededor, que ocupa { $extent }
extent = x { $x_from } a { $x_to } m, z { $z_from } a { $z_to } m
fault-cone-off-site = no está en el sitio
allowed-on-site = ambos a menos de { $site } m del medio de la línea
fault-cone-near = está a { $apart } m del cono { $cone }
allowed-cones-apart = { $least } m o más entre conos
fault-cones-cross = el lado de aquí al cono { $cone } se cruza con el del cono { $from } al cono { $to }
allowed-cones-in-order = conos en orden alrededor de la zona
fault-zone-small = una zona de { $area } m²
allowed-zone-area = { $least } m² o más
fault-cones =
    una zona de { $cones ->
        [one] 1 cono
       *[other] { $cones } conos
    }
allowed-cones = 3 a { $most } conos, o [] para ninguna zona
