# El laboratorio: filas de tubo que comparten varios ensayos, y archivos para otros programas.
sweep-rows-uneven = cada fila se suelta las mismas veces: rows debe dividir los ensayos
sweep-rows-not-with = filas que se sueltan varias veces no van con corner_trials, width, together ni Grid
lab-assumes-rows = En cada valor se cargan y asientan { $rows } filas, con los coeficientes de contacto en el medio de sus rangos; cada una se suelta { $releases } veces, con coeficientes propios. Los ensayos que comparten una fila no son independientes: bandas y cotas cuentan filas.
lab-no-parquet = La tabla no se puede escribir como Parquet: { $error }
sweep-saltelli-uneven = Saltelli toma ensayos en múltiplos de { $of_base }: dos independientes, uno por cada variable y uno por cómo queda la fila
sweep-saltelli-not-with = Saltelli no va con width ni together: los índices de Sobol suponen factores independientes
lab-head-indices = Qué causa las diferencias
lab-indices-explained = Índices de Sobol (estimadores de Jansen, con su error típico por jackknife): la parte de la varianza, en todos los valores del montaje juntos, que un factor causa solo, y con todas sus interacciones. Los negativos pequeños son cero dentro de su error. Lo que se dispone para ellos muestra solo qué hace un factor y no se cuenta en las probabilidades.
lab-result = resultado
lab-index-first = solo
lab-index-total = con sus interacciones
lab-as-it-lies = cómo queda la fila
