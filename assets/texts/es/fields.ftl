# Los campos de un archivo de escenario, por grupo y nombre.

group-File = Un escenario: de qué trata la ejecución y la línea en la que se hace.
field-File-format = Versión de este formato de archivo
field-File-name = Nombre que aparece en listas e informes
field-File-author = Quién escribió el escenario
field-File-brief = Lo que se dice al aprendiz antes de la ejecución
field-File-trains = Lo que enseña el escenario, para el instructor
field-File-seed = Comienzo de toda elección al azar de la ejecución: misma semilla, misma ejecución
field-File-time_limit_s = Tiempo tras el cual termina la ejecución, sea cual sea el resultado
field-File-hazards = Lo que puede salir mal en él, para el instructor
field-File-level = Dificultad: 1 para una primera lección, 5 para una cuadrilla que conoce la línea
field-File-takes_min = Cuánto le lleva a un aprendiz, con explicación previa y repaso final
field-File-goal = Lo que hay que hacer: todos los tramos unidos a la sarta, un tramo alimentado y los demás retenidos, o ningún tramo fuera del rack
field-File-set_out_open = La línea puede replantearse antes de cargar tubería; false donde ya hay tubería en el rack
field-File-hand = Lado de la línea en el que está el rack, para quien mira hacia la máquina de fusión

group-Spanish = Los textos del escenario en español; lo que falta se muestra tal como está.
field-Spanish-name = Nombre
field-Spanish-brief = Explicación previa
field-Spanish-trains = Lo que enseña
field-Spanish-hazards = Lo que puede salir mal

group-Scores = Cómo se puntúa una ejecución: 100 puntos, menos lo que cuesta cada hallazgo.
field-Scores-pass_mark = Puntuación mínima para aprobar
field-Scores-critical_points = Lo que cuesta un hallazgo crítico; hace reprobar la ejecución cueste lo que cueste
field-Scores-major_points = Lo que cuesta un hallazgo mayor
field-Scores-minor_points = Lo que cuesta un hallazgo menor
field-Scores-handling_time_s = Tiempo máximo desde la alimentación hasta las mordazas

group-OwnPoints = Un tipo de hallazgo que cuesta otra cosa.
field-OwnPoints-finding = Cuál
field-OwnPoints-points = Lo que cuesta

group-Pipe = La tubería de la que está hecha la fila.
field-Pipe-size = Tamaño nominal; la tubería métrica se toma como fabricada según AS/NZS 4130
field-Pipe-wall = Pared por su relación, o la propia pared mínima; Dr y Sdr son la misma relación, y el tamaño decide qué tolerancias valen
field-Pipe-length_m = Longitud de un tramo
field-Pipe-ovality_pct = Cuán ovalado es un tramo: diámetro mayor menos diámetro menor, como parte del medio
field-Pipe-temperature_c = Temperatura de la tubería
field-Pipe-density_kg_m3 = Densidad de la tubería

group-Row = Los tramos en el rack, el primero en la compuerta.
field-Row-sticks = Cuántos tramos
field-Row-gap_mm = Separación libre en el lado de abajo de cada tramo, hasta el siguiente o hasta la compuerta, medida como si ninguno estuviera desviado
field-Row-long_axis_deg = Cuánto está girado hacia arriba el eje mayor de un tramo ovalado desde los rieles: 0 está acostado, 90 vertical
field-Row-yaw_deg = Desvío al cargar; positivo tiene el extremo del lado de la máquina más arriba en el rack
field-Row-offset_m = A qué distancia del medio de los rieles queda el medio de un tramo; positivo es hacia la máquina

group-Scatter = Con qué exactitud deposita los tramos un cargador: una suposición. Cada tramo se aparta al azar, de modo uniforme, hasta estos valores a cada lado; la semilla decide.
field-Scatter-gap_mm = Mayor aumento de una separación; las separaciones nunca se reducen
field-Scatter-long_axis_deg = Mayor variación del eje mayor
field-Scatter-yaw_deg = Mayor variación del desvío; donde acerca los extremos, la separación aumenta otro tanto
field-Scatter-offset_m = Mayor variación del medio, hasta donde permiten los rieles

group-StickOverride = Un tramo distinto del resto de la fila; lo que falta es como en la fila.
field-StickOverride-stick = Qué tramo, contado desde la compuerta
field-StickOverride-size = Tamaño nominal
field-StickOverride-wall = Pared
field-StickOverride-length_m = Longitud
field-StickOverride-ovality_pct = Ovalidad
field-StickOverride-gap_mm = Separación libre en su lado de abajo
field-StickOverride-long_axis_deg = Cuánto está girado hacia arriba su eje mayor desde los rieles
field-StickOverride-yaw_deg = Desvío al cargar
field-StickOverride-offset_m = A qué distancia del medio de los rieles queda su medio

group-Rack = El rack de alimentación: dos rieles paralelos que bajan hacia la línea.
field-Rack-pitch_deg = Pendiente de ambos rieles
field-Rack-surface = Superficie de ambos rieles
field-Rack-rail_spacing_m = Distancia entre los medios de los dos rieles, a lo largo de la línea
field-Rack-toe_height_m = Altura sobre el suelo de la superficie de los rieles en el pie, su extremo bajo
field-Rack-length_m = Longitud de los rieles a lo largo de su pendiente, del pie al extremo alto
field-Rack-rail_width_m = Ancho de la superficie que lleva la tubería, a lo largo de la línea
field-Rack-rated_load_kn = Carga máxima que permite la placa del rack

group-Rail = Un riel; el cercano está hacia la máquina de fusión.
field-Rail-pitch_deg = Pendiente de este riel
field-Rail-surface = Superficie de este riel
field-Rail-foot_padded = Hay una placa de apoyo bajo el pie del gato en el extremo alto

group-Escapement = El dispositivo que retiene la fila y suelta un solo tramo.
field-Escapement-kind = Perno de compuerta y perno separador en cada riel, o una rueda con muescas en cada uno
field-Escapement-size_setting = Tamaño para el que están ajustados los pernos o la rueda; puede probarse otro que el de la tubería
field-Escapement-force_max_kn = Fuerza máxima de un perno, o de una rueda en su punta
field-Escapement-stroke_time_s = Tiempo de una carrera o de una muesca sin carga
field-Escapement-interlock = La alimentación se rechaza si el receptor no está arriba y vacío; con false, eso queda anulado

group-Receiver = El par de brazos al pie del rack que baja el tramo a la línea.
field-Receiver-starts_up = Los brazos están arriba al comenzar la ejecución
field-Receiver-travel_m = Altura que bajan los brazos
field-Receiver-force_max_kn = Fuerza máxima de elevación de un brazo
field-Receiver-travel_time_s = Tiempo de todo el recorrido sin carga

group-Cradles = Las dos cunas que elevan, desplazan, giran y avanzan el tramo.
field-Cradles-spacing_m = Distancia de la cuna lejana a la cercana; el medio entre ellas es el medio de los rieles
field-Cradles-turning = Cómo se gira un tramo: con los rodillos de la cuna lejana, o rodando sobre el receptor elevado al desplazar ambas cunas
field-Cradles-surface = Superficie de los rodillos
field-Cradles-lift_stroke_m = Carrera de un elevador, hacia arriba desde su posición más baja
field-Cradles-lift_time_s = Tiempo de toda la carrera sin carga
field-Cradles-lift_force_max_kn = Fuerza máxima de un elevador
field-Cradles-shift_range_m = Recorrido de un desplazador lateral de un extremo al otro, la mitad a cada lado de la columna
field-Cradles-shift_time_s = Tiempo de todo el recorrido sin carga
field-Cradles-shift_force_max_kn = Fuerza máxima de un desplazador lateral
field-Cradles-advance_m_per_s = Velocidad de los rodillos de la cuna cercana a lo largo de la línea
field-Cradles-advance_force_max_kn = Tracción máxima de los rodillos de la cuna cercana
field-Cradles-turn_m_per_s = Velocidad superficial de los rodillos de giro de la cuna lejana
field-Cradles-turn_force_max_kn = Tracción máxima de los rodillos de giro

group-Column = La columna elevadora de una cuna, tal como está replanteada.
field-Column-offset_mm = A qué distancia está del centro de la línea; positivo es alejándose del rack
field-Column-lean_deg = Cuánto está fuera de plomo; positivo se inclina alejándose del rack
field-Column-rack_foot_padded = Hay una placa de apoyo bajo el pie del lado del rack
field-Column-outer_foot_padded = Hay una placa de apoyo bajo el pie del otro lado

group-Machine = La máquina de fusión.
field-Machine-near_cradle_to_jaws_m = Distancia de la cuna cercana al centro de las mordazas
field-Machine-half_length_m = Distancia del centro de las mordazas al extremo de la máquina que mira hacia las cunas
field-Machine-centreline_m = Altura sobre el suelo del eje de las mordazas
field-Machine-grip_force_max_kn = Fuerza máxima con la que las mordazas llevan un extremo al eje
field-Machine-joint_time_s = Desde sujetar hasta el fin del enfriamiento, acortado para la formación: el real lo fija el procedimiento de unión
field-Machine-draw_m_per_s = Velocidad a la que se tira de la sarta terminada

group-Loader = Un cargador con dos horquillas. Trae más tramos, de uno en uno, cada uno igual al último de la fila.
field-Loader-sticks = Cuántos tramos trae; con 0 no hay cargador
field-Loader-fork_spread_m = Distancia entre las dos horquillas, de medio a medio
field-Loader-fork_length_m = Longitud de una horquilla. Las puntas de una más larga bajan antes que el tramo: hay que depositarlo más lejos de la fila
field-Loader-capacity_kg = Capacidad nominal, según la placa del fabricante
field-Loader-load_centre_m = Centro de carga nominal: a qué distancia de la cara de las horquillas puede estar una carga de la capacidad nominal
field-Loader-back_tilt_deg = Inclinación hacia atrás de las horquillas al transportar
field-Loader-off_middle_m = A qué distancia del medio del tramo queda el medio de las horquillas al recogerlo; positivo es hacia la máquina
field-Loader-carry_height_m = Altura a la que transporta, sobre el suelo bajo las horquillas
field-Loader-gap_mm = Separación libre hasta el último tramo de la fila con la que se deposita el siguiente
field-Loader-drive_m_per_s = Velocidad de marcha
field-Loader-braking_m_per_s2 = Con qué fuerza frena
field-Loader-lift_m_per_s = Velocidad de subida y bajada de las horquillas
field-Loader-starts_beyond_m = A qué distancia del extremo alto del rack están las puntas de sus horquillas al comenzar la ejecución

group-Person = Alguien en el sitio. Si falta, hay una cuadrilla habitual: operador, vigía, técnico, maniobrista, y un conductor si hay cargador. Una lista vacía, [], es nadie.
field-Person-duty = Para qué está ahí
field-Person-x_m = Dónde comienza: desde el centro de la línea, alejándose del rack
field-Person-z_m = Dónde comienza: desde el medio de los rieles, hacia la máquina
field-Person-starts_s = Cuándo se pone en camino
field-Person-walking_m_per_s = Velocidad al caminar
field-Person-reaction_s = Desde ver u oír hasta actuar
field-Person-looks = Al caminar mira si hay tubería en movimiento, y se detiene por ella
field-Person-radio = Lleva una radio

group-Waypoint = Un punto del camino de alguien, en orden.
field-Waypoint-x_m = Desde el centro de la línea, alejándose del rack
field-Waypoint-z_m = Desde el medio de los rieles, hacia la máquina
field-Waypoint-stays_s = Cuánto tiempo se queda ahí

group-Zone = La zona de exclusión.

group-Cone = Los conos en orden alrededor de la zona. Si faltan, forman un rectángulo alrededor de la línea. Una lista vacía, [], es ninguna zona.
field-Cone-x_m = Desde el centro de la línea, alejándose del rack
field-Cone-z_m = Desde el medio de los rieles, hacia la máquina

group-Ground = El suelo bajo la línea, como un solo plano.
field-Ground-cross_fall_deg = Caída a través de la línea, alejándose del rack
field-Ground-along_fall_deg = Caída a lo largo de la línea, hacia la máquina
field-Ground-friction = Fricción de la tubería sobre el suelo
field-Ground-rolling_lever_arm_mm = Brazo de la resistencia a la rodadura en el suelo: cuanto mayor, antes se detiene un tramo
field-Ground-subgrade_mn_per_m3 = Cuán firme es el suelo bajo pies y placas de apoyo: presión por cada metro que se hunden (módulo de balasto)

group-Weather = El tiempo durante la ejecución.
field-Weather-temperature_c = Temperatura del aire
field-Weather-wind_m_per_s = Velocidad del viento
field-Weather-wind_towards_deg = Hacia dónde sopla el viento: 0 es alejándose del rack, 90 hacia la máquina
field-Weather-drag_coefficient = Coeficiente de arrastre de un tramo atravesado al viento

group-Contact = Suposiciones sobre el contacto. Poco de esto está publicado para tubería de polietileno en un rack.
field-Contact-friction_dry = Tubería sobre acero seco
field-Contact-friction_wet = Tubería sobre acero mojado
field-Contact-friction_frosted = Tubería sobre acero con escarcha
field-Contact-friction_glazed = Tubería sobre acero con hielo
field-Contact-friction_pipe_on_pipe = Tubería sobre tubería
field-Contact-friction_rubber_dry = Tubería sobre caucho seco, como el de los rodillos de las cunas
field-Contact-friction_rubber_wet = Tubería sobre caucho mojado
field-Contact-friction_rubber_frosted = Tubería sobre caucho con escarcha
field-Contact-friction_rubber_glazed = Tubería sobre caucho con hielo
field-Contact-restitution = Rebote: velocidad después de un golpe entre velocidad antes de él; 0 es el caso prudente para un tope
field-Contact-rolling_lever_arm_mm = Brazo de la resistencia a la rodadura en los rieles: cuanto mayor, más cuesta rodar

group-Faults = Lo que está mal en la línea. Nada, si no se pone aquí.
field-Faults-told = Las fallas se dicen al aprendiz antes de la ejecución; con false quedan por encontrar
field-Faults-roller_seized = Los rodillos de la cuna lejana están agarrotados: resbalan bajo un tramo que avanza
field-Faults-radio_dead = La radio del vigía no funciona
field-Faults-power_fails_s = Cuándo falla la energía: todo movimiento se detiene como en un paro de emergencia

group-RailFault = Lo que está mal en el rack y en el escape en un riel.
field-RailFault-gate_late_s = Cuánto después de su orden empieza a moverse el perno de compuerta, o la rueda
field-RailFault-gate_missing = Falta el perno de compuerta
field-RailFault-separator_missing = Falta el perno separador
field-RailFault-gate_stuck = El perno de compuerta se queda pegado donde está
field-RailFault-chock_missing = Falta la calza de la fila
field-RailFault-inclinometer_error_deg = Cuánto más marca el inclinómetro de lo que tiene el riel

group-MotionFault = Lo que está mal en un movimiento de subida y bajada.
field-MotionFault-slowness = Cuántas veces su tiempo nominal tarda
field-MotionFault-crossed = Las mangueras están cruzadas: se mueve en contra de su flecha
field-MotionFault-coupler = Cuánto está encajado el acople rápido: a medias, el movimiento es lento; suelto, está muerto
field-MotionFault-sticks_s = Suciedad en la válvula: arranca y se detiene este tiempo después de su botón
field-MotionFault-air_mm = Aire en la manguera: arranca tarde, y cede tanto a su fuerza máxima
field-MotionFault-creep_mm_per_s = El cilindro fuga: baja a esta velocidad bajo carga

group-LevelFault = Lo que está mal en un movimiento que ninguna carga mueve mientras está detenido.
field-LevelFault-slowness = Cuántas veces su tiempo nominal tarda
field-LevelFault-crossed = Las mangueras están cruzadas: se mueve en contra de su flecha
field-LevelFault-coupler = Cuánto está encajado el acople rápido: a medias, el movimiento es lento; suelto, está muerto
field-LevelFault-sticks_s = Suciedad en la válvula: arranca y se detiene este tiempo después de su botón

group-RollerFault = Lo que está mal en los rodillos que avanzan el tramo.
field-RollerFault-slowness = Cuántas veces su tiempo nominal tarda
field-RollerFault-crossed = Las mangueras están cruzadas: se mueve en contra de su flecha
field-RollerFault-coupler = Cuánto está encajado el acople rápido: a medias, el movimiento es lento; suelto, está muerto
field-RollerFault-sticks_s = Suciedad en la válvula: arranca y se detiene este tiempo después de su botón
field-RollerFault-creep_mm_per_s = El motor fuga: si se tira de ellos a lo largo de la línea, los rodillos detenidos ceden a esta velocidad

## De qué se deriva un campo que falta.
follows-Pipe-density_kg_m3 = 955 para Ips, 965 para Metric
follows-Rack-rail_spacing_m = 0.44 de la longitud del tramo, y al menos 1.5 m
follows-Rack-length_m = lugar para la fila y 1.5 diámetros más
follows-Escapement-stroke_time_s = 0.6 para pernos, 3 para una rueda
follows-Cradles-spacing_m = la longitud del tramo entre 1.8
follows-Machine-near_cradle_to_jaws_m = 0.222 de la longitud del tramo, más 0.4 m para bajar el tramo, más half_length_m
follows-Machine-half_length_m = 0.9 m más la mitad del diámetro del tubo
follows-Machine-centreline_m = adonde llega un tramo asentado tras 0.35 m de elevación
follows-Loader-fork_length_m = el diámetro exterior del tubo
follows-Person-radio = true, y false para un Visitor
follows-Faults-power_fails_s = nunca

## Por qué un valor fuera de lo habitual merece un aviso.
usual-ovality = más de 5 rara vez se acepta
usual-pitch = la práctica común es de 4 a 6, y nunca más de 10
usual-friction = fuera de lo que suele suponerse para este par
usual-density = la tubería de polietileno negro tiene de 945 a 970
usual-plumb = una columna se coloca a plomo
usual-walking = la gente camina de 0.8 a 2 m/s
usual-reaction = la gente tarda de 0.5 a 2.5 s
usual-subgrade = la arcilla blanda tiene unos 10, la grava densa unos 100
usual-drag = un cilindro atravesado al viento tiene de 0.2 a 1.2

## La lista de campos.
fields-required = obligatorio
fields-default = por defecto { $value }
fields-follows = por defecto: { $rule }
fields-warns = avisa fuera de { $min } a { $max }
