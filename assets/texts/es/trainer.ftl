# La pantalla del instructor: clases, personas, sus intentos.
title-trainer = Clases y personas
title-trainer-note = Para el instructor: quién aprobó qué, evaluar, firmar, imprimir
window-trainer = Clases y personas
window-trainer-person = Persona

trainer-title = Clases y personas
trainer-classes = Clases
trainer-other-class = Elegir otra clase
trainer-class-people = { $people ->
    [one] 1 persona
   *[other] { $people } personas
}
trainer-people = Personas
trainer-glance = De un vistazo
trainer-going = { $runs ->
    [0] En marcha ahora: nada
    [one] En marcha ahora: 1
   *[other] En marcha ahora: { $runs }
}
trainer-add-people = Añadir personas
trainer-add-class = Clase nueva
trainer-seek = Buscar un nombre
trainer-none-found = Aquí ningún nombre contiene eso.
trainer-nobody = Todavía no hay nadie. Añada personas, o haga que alguien sea evaluado con su nombre.

## The table.
trainer-name = Nombre
trainer-attempts = Intentos
trainer-passed = Aprobados
trainer-last = Último intento
trainer-due = Debe volver
trainer-none = ninguno aún
trainer-no-date = sin fecha
trainer-passed-of = { $passed } de { $of }
trainer-last-said = { $date }, { $exercise }: { $result }
trainer-overdue = { $date }, vencido
trainer-due-at = { $date }, { $exercise }
trainer-overdue-at = { $date }, { $exercise }, vencido
trainer-result-passed = aprobado, { $points } puntos
trainer-result-failed = no aprobado, { $points } puntos
trainer-result-broken = interrumpido, no aprobado
trainer-result-fault = sin resultado: falló la simulación
trainer-result-void = no cuenta ({ $result })
trainer-not-passed = intentado, sin aprobar; { $points } puntos como mucho

## A class at a glance.
trainer-sign-mastered = dominado
trainer-sign-passed = aprobado, mejores puntos
trainer-sign-failed = intentado, sin aprobar, mejores puntos
trainer-sign-none = sin intentar todavía

## Runs that are going on.
trainer-going-none = Nadie maneja la línea ahora.
trainer-going-how = Un recorrido aparece desde el primer instante de la línea, lo haga la ventana que lo haga de este programa en esta máquina. Para mirar mientras alguien se entrena, abra Chockline otra vez: esta ventana es entonces la suya.
trainer-going-nobody = Alguien sin nombre
trainer-going-shown = Lo muestra el programa: { $operator }
trainer-going-what = { $exercise }, { $mode }
trainer-going-since = Empezó hace { $minutes ->
    [0] menos de un minuto
    [one] 1 minuto
   *[other] { $minutes } minutos
}
trainer-going-run = { $time } min en la línea, { $events ->
    [0] todavía no ha pasado nada
    [one] 1 suceso
   *[other] { $events } sucesos
}
trainer-going-last = Lo último, a los { $time }: { $event }
trainer-going-breaks = { $breaks ->
    [one] 1 pausa
   *[other] { $breaks } pausas
} hasta ahora
trainer-going-still = Quieto desde hace { $seconds } s: detenido, o en una pausa
trainer-going-unread = No se puede leer más mientras se escribe.

## A person.
trainer-person-attempts = { $attempts ->
    [one] 1 intento que cuenta
   *[other] { $attempts } intentos que cuentan
}; aprobados { $passed } de { $of } ejercicios.
trainer-person-due = Debe volver: { $due }
trainer-their-attempts = Intentos, el último primero
trainer-attempt-note = { $date }. { $signed }
trainer-no-attempt = Elija un intento para ver qué se encontró.
trainer-signed = Firmado por { $by }
trainer-unsigned = Sin firmar
trainer-attempt-facts = { $date } UTC, { $minutes } min, { $breaks ->
    [0] sin pausas
    [one] 1 pausa
   *[other] { $breaks } pausas
}. Carga { $seed }, programa { $program }.
trainer-found = { $severity }, a los { $time }, { $points } puntos

trainer-assess = Evaluar
trainer-assess-means = Se entrega la botonera: explicación, preparación, la línea. Termina como resultado con este nombre, pase lo que pase.
trainer-assess-do = Evaluar: { $exercise }
trainer-assess-other = Otro ejercicio
trainer-assess-others = Otros tramos que los de todos (un ejercicio se domina aprobándolo con dos cargas)
trainer-set-due = Poner fecha de vuelta
trainer-set-due-do = Poner la fecha
trainer-months = en { $months ->
    [one] 1 mes
   *[other] { $months } meses
}
trainer-date = Fecha, como AAAA-MM-DD
trainer-date-fault = Eso no es una fecha: escriba año, mes y día, como 2027-03-31.
trainer-due-for = Para qué
trainer-due-all = Todo
trainer-sign-off = Firmar
trainer-sign-off-means = Usted responde por este intento como evaluador. No sustituye la evaluación en el puesto de trabajo.
trainer-sign-off-title = ¿Firmar esto?
trainer-sign-off-sure = { $exercise }, { $date }: { $result }. { $by } responde por ello. Una firma no se puede retirar.
trainer-sign-off-yes = Firmar
trainer-sign-off-no = Todavía no
trainer-by = Su nombre
trainer-note = Nota, si hay algo que decir; sin nombres
trainer-void = No cuenta
trainer-void-means = El intento sigue escrito con su motivo al lado, y ya no cuenta. Eso no se puede deshacer.
trainer-void-do = Que no cuente
trainer-why = Por qué; sin nombres
trainer-certificate = Certificado
trainer-report = Informe
trainer-leave = Dejarlo
trainer-class-name = Nombre de la clase
trainer-add-class-do = Crear la clase
trainer-into-class = Entran en la clase { $class }.
trainer-into-none = No entran en ninguna clase. Para ponerlas en una, elíjala antes.
trainer-names = Nombres, uno por línea
trainer-number = Número, si aquí ya hay alguien con ese nombre; casi siempre vacío
trainer-number-of-one = Un número es de una sola persona: escriba un solo nombre con él.
trainer-add-people-do = Añadir { $people ->
    [one] 1 persona
   *[other] { $people } personas
}

## What is done, and what came of it.
trainer-reading = Se leen los registros.
trainer-writing = Se está escribiendo.
trainer-class-made = La clase { $class } está hecha.
trainer-is-signed = Firmado por { $by }.
trainer-is-void = Ya no cuenta.
trainer-still-here = { $fault } Lo que escribió sigue aquí.
trainer-page-making = Se hace el informe: el recorrido se simula otra vez, y eso tarda un rato.
trainer-page-saved = { $file } está escrito y se abre en su navegador: imprímalo allí.
trainer-page-not-opened = { $file } está escrito. No se pudo abrir ningún navegador; abra usted el archivo para imprimirlo.
trainer-no-recording = No hay informe: la grabación de este intento ya no está en esta máquina, o nunca estuvo.
trainer-thread-lost = Ya no se puede trabajar con los registros; salga de esta pantalla y vuelva a entrar.
