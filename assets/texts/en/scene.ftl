# What is written into the scene.
overlay-zone-live = Exclusion zone: a stick can move
overlay-zone-at-rest = Exclusion zone: nothing can move
overlay-reach = A loose stick comes to here
overlay-no-reach = A loose stick would not stop
overlay-after = { $seconds } s
overlay-fire-moving = Line of fire of stick { $stick }
overlay-fire-if-let-go = Line of fire if stick { $stick } is let go
overlay-level = level
overlay-tilt = { $degrees }°, { $end } high
overlay-centre-line = jaws' centre line, { $height_m } m
overlay-force = { $kn } kN
