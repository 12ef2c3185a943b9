# A run in the window: modes, how it ends, what is kept of it.

standing-not-tried = sin intentar
standing-not-passed = no aprobado, lo mejor: { $points } de 100 puntos
standing-passed = aprobado, lo mejor: { $points } de 100 puntos

store-no-folder = no hay carpeta donde guardar las ejecuciones; indicar una en la variable de entorno { $variable }
results-unreadable = { $file }: no se pueden leer los resultados: { $error }
results-line-unreadable = { $file }: la línea { $line } no es un resultado; queda como está y no cuenta
journal-unreadable = { $file }: el comienzo de una evaluación que no se puede leer: { $error }; queda apartado
settings-put-aside = { $file }: no se puede leer la configuración: { $error }; vale la habitual, y el archivo se conserva como { $kept }
settings-unreadable = { $file }: no se puede leer la configuración: { $error }; vale la habitual
