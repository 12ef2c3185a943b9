# The laboratory: rows that several trials share, and files for other programs.
sweep-rows-uneven = every row is released equally often: rows must divide the trials
sweep-rows-not-with = rows that are released several times go with no corner_trials, width, together or Grid
lab-assumes-rows = At each value { $rows } rows are loaded and settled, with the coefficients of contact in the middle of their ranges; each is released { $releases } times, with coefficients of its own. Trials that share a row are not independent: bands and bounds count rows.
lab-no-parquet = The rows cannot be written as Parquet: { $error }
sweep-saltelli-uneven = Saltelli takes trials in multiples of { $of_base }: two independent ones, one for each variable, one for how the row lies
sweep-saltelli-not-with = Saltelli goes with no width and no together: Sobol indices take the factors for independent
lab-head-indices = What brings the differences about
lab-indices-explained = Sobol indices (Jansen's estimators, with their standard error by a jackknife): the part of the variance, at all values of the set-up together, that a factor brings about alone, and with all its interactions. Small negative ones are zero within their error. What is laid out for them shows only what a factor does and is not counted in the probabilities.
lab-result = result
lab-index-first = alone
lab-index-total = with its interactions
lab-as-it-lies = how the row comes to lie
