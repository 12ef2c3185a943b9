# On foot: set-out and walk-round.
set-out-no-room = no room for { $setting }: { $steel } would be in the way
zone-off-site = cone { $cone } is not on the site
zone-too-near = cones { $one } and { $other } stand in one place: take one of them away
zone-crosses = the cones make no zone: the side from cone { $from } to { $to } crosses that from cone { $other_from } to { $other_to }. Set them in the order in which you walk round the line
zone-too-small = the cones enclose { $area } m², { $least } m² is the least: set them farther apart

# What is looked at.
thing-plate = the rack's plate
thing-wheel = the star wheel at the { $rail }
thing-gate-drive = the gate's drive at the { $rail }
thing-surface = the running surface of the { $rail }
thing-gauge = the inclinometer of the { $rail }
thing-rail-foot = the foot of the jack under the { $rail }
thing-column = the lift column at the { $end }
thing-column-feet = the feet of the lift column at the { $end }
size-inches = { $size } in
size-millimetres = { $size } mm
size-odd = no listed size

# What is seen of it.
look-size = The pins are in the holes marked { $size }.
look-size-between = The pins are between two holes.
look-interlock-sound = The receiver's switch moves freely and its cable is whole.
look-interlock-bridged = A wire bridges the terminals of the receiver's switch.
look-plate = The plate says: greatest load { $rated } kN.
look-pins-sound = Gate pin and separator pin are in their slots, and both give when pushed.
look-gate-missing = The slot of the gate pin is empty.
look-gate-stuck = The gate pin is rusted and does not give when pushed.
look-separator-missing = The slot of the separator pin is empty.
look-wheel = The spokes are whole, and the wheel gives when pushed.
look-wheel-stuck = The wheel is rusted and does not give when pushed.
look-gate-drive-sound = The gate's hose runs freely from valve to ram.
look-gate-drive-kinked = The gate's hose is kinked where it passes under the rail.
look-surface = The rail is { $surface }.
look-chock-there = The chock hangs on its hook.
look-chock-missing = The chock's hook is empty.
look-gauge = The tube is whole and the bubble moves freely. Whether it shows what the rail has, only a level laid on the rail can tell.
look-foot-padded = The foot stands on its pad.
look-foot-bare = The foot stands on the bare ground.
look-feet-padded = Both feet stand on their pads.
look-feet-bare = Both feet stand on the bare ground.
look-feet-rack-bare = The foot on the rack's side stands on the bare ground.
look-feet-outer-bare = The foot on the outer side stands on the bare ground.
look-column-upright = To the eye the column stands upright.
look-column-leans-out = The column leans away from the rack.
look-column-leans-in = The column leans towards the rack.
look-level-plumb = The level held to it shows plumb.
look-level-out = The level held to it shows { $lean }° away from the rack.
look-level-in = The level held to it shows { $lean }° towards the rack.
look-string-middle = The string passes over the middle of the V.
look-string-out = The middle of the V is { $off } mm from the string, away from the rack.
look-string-in = The middle of the V is { $off } mm from the string, towards the rack.
look-hoses-sound = The couplers' collars are home, and hoses and rams are dry.
look-coupler-half = A coupler's collar stands a finger's width back.
look-coupler-off = A coupler hangs beside its socket.
look-oil = Oil has run down the ram and dripped on the ground.
look-brake-worn = The lining of the rollers' brake is worn down to its rivets.
look-rollers-sound = Every barrel turns by hand.
look-rollers-seized = The barrels have flats worn on them and do not turn by hand.
look-cradles = How far apart they are, the tape tells.
look-machine = How far it is from the near cradle, the tape tells.
look-radio-sound = Radio check: the spotter answers.
look-radio-dead = Radio check: no answer.
look-cones = { $cones } cones. The widest gap is { $gap } m, between cones { $from } and { $to }.
look-stick = The print line says { $size }, DR { $ratio }. Outside diameter { $diameter } mm, length { $length } m.
look-round = Measured at acceptance: round.
look-oval = Measured at acceptance: { $ovality } % oval, the long axis marked with chalk.
look-oval-lies = Measured at acceptance: { $ovality } % oval. The chalk mark of the long axis lies { $angle }° above the rails.
level-on-rail = The level on the { $rail } shows { $slope }°.

# What came of an act.
told-set = Done: { $setting }.
told-size = The pins are put into the holes marked { $size }.
told-string-stretched = The string is stretched along the line's centre.
told-string-taken = The string is taken up again.
told-cone-put = Cone { $cone } is put down.
told-cone-taken = Cone { $cone } is taken up.
told-cone-stacked = The cone is back on the stack.
told-accepted = Accepted: { $thing }.
told-put-right = Reported and put right: { $thing }.
told-nothing-found = Reported: { $thing }. The crew looks it over and finds nothing wrong.
told-no-remedy = Reported: { $thing }. Nothing on the site puts that right: work with it in mind.

# Why something is not done.
refused-jack-end = The jack is at its end.
refused-cone-in-hand = One cone at a time: put down the one in hand first.
refused-no-cone = There is no cone in hand.
refused-look-first = Look closely first: { $thing }.
refused-set-it-yourself = Nobody else does that, set it yourself: { $thing }.

# The function check.
check-went-along = { $button }: it moves that way after { $late } s, at up to { $speed } mm/s. The plate says { $usual } mm/s.
check-went-against = { $button }: it moves the other way after { $late } s, at up to { $speed } mm/s. The plate says { $usual } mm/s.
check-went-nowhere = { $button }: held for { $held } s, and nothing moves.
tape-mark = the mark on the ground

# Keys on foot.
foot-walk = W, A, S, D walk (Shift hurries, Ctrl crouches). Right mouse button or arrows look round.
foot-close = E looks closely at what is named; there Y accepts, R reports, Esc steps back.
foot-jack = Beside a jack: U and J turn its crank, L lays the level on its rail.
foot-tape = T hooks the tape on or takes it up; P puts the cradle or the machine where it is held.
foot-cones = C takes a cone up or puts one down.
foot-string = G stretches the string line or takes it up. Z takes the last act back.
foot-bound = { $list } goes to the list and back, { $start } starts the line, { $fold } hides this.
