# The laboratory in the window: numbers that are written, and what matters most.
labscreen-exact = { $what }, exactly
labscreen-unmeasured-of = { $what }: nobody has measured it
labscreen-thirds = { $low } in its lowest third, { $high } in its highest
labscreen-matters-mark = From 0 to 100 %, full where more of it brings more, ruled where less. Upright line: { $all } of all trials, at those pitches where it neither always nor never comes.
