# What the judge says: findings, acts, causes, score.

finding-struck = Person struck
why-struck = A stick weighs as much as a car. At walking pace it breaks bones, slower it crushes.
right-struck = Nobody inside the cones while a stick can move. Whoever must go in goes in on an isolated line.
rule-struck = Any contact fails the run. Energies of 15 J and 79 J, at which debris counts as hurting (US range-safety practice; DDESB Technical Paper 12, seen in secondary texts), are far below those of a rolling stick.

finding-double-feed = Double feed
why-double-feed = The second stick rolls into the first, or over it, with nothing left to hold it.
right-double-feed = Pitch 4 to 6 degrees, pins set for this pipe, all pins fitted, feed let go only when the stick is clear.
rule-double-feed = One stick to a cycle (common practice, no source). What the gate holds follows from its height, the pitch and the length of the row.

finding-roll-off = Roll-off
why-roll-off = A loose stick rolls until the ground stops it, and nobody can hold it.
right-roll-off = Receiver up and empty before the feed, lower only a stick that lies still, raise and shift with both ends in the cradles.
rule-roll-off = No stick leaves the line (common practice, no source).

finding-dropped = Stick dropped
why-dropped = A drop dents the pipe's end and the machine, and the bounce goes where nobody expects it.
right-dropped = Receiver up before the feed; forks wide, low and tilted back, and gentle braking with a load.
rule-dropped = A fall on to the line faster than { $limit } m/s counts as a drop (our own figure: a free fall of 50 mm).

finding-under-stick = Person under a raised stick
why-under-stick = A lift that sinks or a stick that leaves its V gives no time to get out.
right-under-stick = Lower before anybody goes near; nobody reaches or walks under a raised or carried stick.
rule-under-stick = Nobody under a load (29 CFR 1926.1425 for hoisted loads; here for every raised stick).

finding-from-below = Stick barred from below
why-from-below = The stick goes the moment it is freed, over whoever stands below.
right-from-below = Stop, isolate and lock, chock downhill, hold with the loader, and work from the ends.
rule-from-below = Nobody below a stick that hangs (common practice, no source; workers not exposed to an unsecured load).

finding-in-zone = Person inside the zone while a stick could move
why-in-zone = On a rack of 5 degrees a stick covers a metre and a half before a startled person is clear.
right-in-zone = Let go, isolate, call them out, and start again when the cones are clear.
rule-in-zone = The line must be safe within { $limit } s of somebody stepping in (perception and response of about nine people in ten: AASHTO Green Book, quoted in a secondary text).

finding-zone-inadequate = Exclusion zone too small
why-zone-inadequate = Cones that stand where a loose stick can come to tell people that they are safe where they are not.
right-zone-inadequate = Set the cones round everything that a loose stick can reach before anything is fed.
rule-zone-inadequate = The zone covers the reach of a loose stick, computed from pitch, height, ground and rolling resistance (common practice, no source for the method).

finding-pitch-outside = Rack pitch outside the limits
why-pitch-outside = Too flat, an oval stick hangs and goes at a nudge. Too steep, the row jumps the gate and sticks arrive too fast.
right-pitch-outside = Read both inclinometers and set both rails before pipe is loaded.
rule-pitch-outside = { $low } to { $high } degrees, never above { $never } (common practice, no source).

finding-rack-overloaded = Rack overloaded
why-rack-overloaded = A rail that gives way lets the whole row go.
right-rack-overloaded = Read the rack's plate and count the sticks before calling for the next.
rule-rack-overloaded = The load stays within the rack's plate (maker's rating).

finding-wrong-setting = Escapement set for another size
why-wrong-setting = The separator misses the gap between the sticks, or the gate stands too low for them.
right-wrong-setting = Set the pins or the wheel for the pipe on the rack, and check it with the first stick.
rule-wrong-setting = The setting is the pipe's outside diameter (this rig's separator fits only between 0.866 and 1 diameter from the gate's corner).

finding-jack-under-load = Jack cranked under load
why-jack-under-load = A rail that moves under pipe starts the row, and a jack that slips drops it.
right-jack-under-load = Take the pipe off the rack first; then set the pitch.
rule-jack-under-load = Jacks are never adjusted with pipe on the rack (common practice, no source).

finding-crossed-accepted = Motion against its arrow accepted
why-crossed-accepted = In a hurry the hand trusts the arrow: the stick goes the other way.
right-crossed-accepted = Try every motion once, empty, against its arrow; have crossed hoses put right before pipe moves.
rule-crossed-accepted = A control moves what it shows, the way it shows (IEC 60447 in spirit, from memory; common practice).

finding-fault-missed = Fault missed on the walk-round
why-fault-missed = What the walk-round does not find, the first stick finds.
right-fault-missed = Look at every item, try every motion, report what is wrong, and feed only when it is put right.
rule-fault-missed = Equipment with a fault is not used until it is put right (29 CFR 1926.251 asks it of slings before each shift; common practice for the rest).

finding-fed-unready = Fed with the receiver not ready
why-fed-unready = The stick falls into the cradles or on to the one before it.
right-fed-unready = Look at the receiver, not at the lamp: up and empty before every feed.
rule-fed-unready = Receiver up and empty before the feed (common practice, no source; the interlock asks the same).

finding-let-go-early = Feed let go early
why-let-go-early = The gate rises under the stick and throws it on, or holds it half released.
right-let-go-early = Hold feed until the stick is well clear of the gate.
rule-let-go-early = The gate closes on nothing (common practice, no source): the stick's axis is past the pin by the half width that it has at the pin's height.

finding-stop-unheeded = Spotter's stop not heeded
why-stop-unheeded = The spotter sees the end that the operator does not.
right-stop-unheeded = On stop let go of everything, isolate, and ask.
rule-stop-unheeded = Everything stands within { $limit } s of the word (perception and response: AASHTO Green Book, quoted in a secondary text). Anybody may say stop (common practice).

finding-stop-late = Emergency stop late or not at all
why-stop-late = A powered motion stops within a finger's width; a person who is caught does not get out.
right-stop-late = Press the emergency stop at the first sight of somebody near a moving part, and ask afterwards.
rule-stop-late = The emergency stop is always at hand and comes before everything else (ISO 13850, seen in secondary texts). It does not stop a stick that rolls.

finding-lift-tilt = Stick tilted on the lifts
why-lift-tilt = A tilted stick slides lengthwise when a brake gives or frost comes.
right-lift-tilt = Raise both ends together and look at the level.
rule-lift-tilt = At most { $limit } degrees lengthwise (our own figure: below the 1.65 degrees at which a frosted stick slides in V's of which one is free).

finding-high-low = High-low at hand-over
why-high-low = Walls that do not meet make a weak joint; jaws that force them bend the pipe, and it springs back.
right-high-low = Trim height and line until the end lies true, and only then ask for the jaws.
rule-high-low = At most { $limit } % of the minimum wall (ASTM F2620, from memory).

finding-joint-rushed = Jaws opened before the joint was made
why-joint-rushed = A joint that is moved while it cools is weak, and bent pipe springs out of open jaws.
right-joint-rushed = Leave the jaws alone until the joint's time is over.
rule-joint-rushed = The joint cools under pressure, undisturbed (ASTM F2620, from memory); its time is the joining procedure's.

finding-loaded-unchocked = Row loaded without chocks
why-loaded-unchocked = The stick that comes down pushes the row against the gate with nothing else to hold it.
right-loaded-unchocked = Have the row chocked, and everybody out, before the loader comes.
rule-loaded-unchocked = Row chocks while loading (common practice, no source; 29 CFR 1926.250(b)(9) asks for round stock to be blocked, from memory).

finding-left-live = Line left live
why-left-live = A stick that nobody watches goes when frost, wind or a passer-by starts it.
right-left-live = Lower, chock, block the gate, isolate and lock before leaving.
rule-left-live = Unattended, no stick can move (common practice, no source).

finding-hard-seat = Stick seated hard
why-hard-seat = A stick that comes fast or still rocks climbs the wing; a little more and it is over.
right-hard-seat = Keep the pitch within its limits, wait until the stick lies still in the receiver, then lower.
rule-hard-seat = Not above { $limit } m/s when lowered or seated, and at the receiver's stop not above { $entry } % of the speed that goes over it (our own figures).

finding-rough-landing = Rough landing on the row
why-rough-landing = Every blow goes down the row into the gate.
right-rough-landing = Load while nothing is fed, close behind the last stick.
rule-rough-landing = Not above { $limit } m/s (our own figure).

finding-long-axis-off = Long axis not upright
why-long-axis-off = Two oval ends that are turned against each other do not meet all round.
right-long-axis-off = Turn the stick until the mark of its long axis stands upright.
rule-long-axis-off = Within { $limit } degrees for pipe of { $oval } % ovality and more (our own figures).

finding-gap-off = Gap to the string off
why-gap-off = Pressed against the string the stick is bound and springs when let go; too far off the carriage does not reach.
right-gap-off = Let go of advance early and stop just short of the string.
rule-gap-off = { $least } to { $limit } mm (our own figures: what the eye tells from touching, and what the carriage takes up).

finding-no-horn = Horn not sounded
why-no-horn = Whoever has their back to the rack hears nothing coming.
right-no-horn = Sound the horn before every feed.
rule-no-horn = Within { $limit } s before the feed (our own figure; a warning before starting is asked for by ISO 12100 and IEC 60204-1, from memory).

finding-needless-motion = Needless motion
why-needless-motion = A motion held at its end heats the oil and tells nobody where the stick is going.
right-needless-motion = Let go when it is there.
rule-needless-motion = Not more than { $limit } s in all (our own figure).

finding-slow-cycle = Stick brought slowly
why-slow-cycle = The joint sets the pace: a machine that waits for pipe makes the next crew hurry.
right-slow-cycle = One step after the other, without haste and without waits.
rule-slow-cycle = From feed to jaws within the scenario's time (our own figure).

fact-struck = { $by } struck the { $person } at { $speed } m/s with { $energy } J
fact-double-feed = { $stick } came through the open gate behind the one that was fed
fact-over-closed-gate = { $stick } went over the closed gate
fact-roll-off = { $stick } left the line
fact-dropped-from-forks = { $stick } fell from the forks
fact-dropped = { $stick } fell on to the line at { $speed } m/s
fact-under-stick = the { $person } was under { $stick }, which was raised
fact-from-below = { $stick } was levered from below
fact-jack-under-load = the jack of the { $rail } was cranked with pipe on the rack
fact-fed-occupied = fed with a stick still in the receiver's room
fact-fed-low = fed with the receiver { $low } mm below its upper place
fact-let-go-early = the gate closed with { $stick } still over it
fact-joint-rushed = the jaws let { $stick } go after { $held } s of { $joint } s
fact-hard-entry = { $stick } came to the receiver's stop at { $speed } m/s, { $part } % of what goes over it
fact-lowered-rocking = the receiver went down with { $stick } rocking at { $speed } m/s
fact-hard-seat = { $stick } came into the cradles at { $speed } m/s
fact-rough-landing = { $stick } came up against the row at { $speed } m/s
fact-in-zone = the { $person } was inside for { $time } s while a stick could move
fact-stop-unheeded = { $button } was held { $time } s after the spotter's stop
fact-stop-late = the { $motion } went on { $time } s after the danger was in sight
fact-no-horn = fed without the horn
fact-zone-short = the cones stand { $by } m short of where a loose stick can come to
fact-zone-does-not-stop = a loose stick would not stop on this ground: no zone is large enough
fact-no-zone = no zone was set out
fact-pitch-outside = fed from rails at { $near }° (near) and { $far }° (far); { $low } to { $high }° is the rule
fact-wrong-setting = fed with the escapement set for { $setting } mm and pipe of { $pipe } mm
fact-crossed-accepted = fed with { $item } crossed
fact-fault-missed = fed with a fault at { $item }
fact-pins-missing = fed with a pin missing at the { $rail }
fact-chock-missing = fed with the chock of the { $rail } missing
fact-foot-bare = fed with no pad under the foot of the { $rail }
fact-column-bare = fed with no pad under a foot of the lift at the { $end }
fact-column-off = fed with the lift at the { $end } off the line or out of plumb
fact-interlock-defeated = fed with the interlock defeated
fact-rack-overloaded = { $load } kN on a rack rated for { $rated } kN
fact-lift-tilt = { $stick } lay { $tilt }° out of level lengthwise; at most { $limit }°
fact-high-low = { $stick } was handed over { $off } mm off the string; at most { $limit } mm
fact-long-axis-off = { $stick } was handed over with its long axis { $off }° off upright; at most { $limit }°
fact-gap-pressed = { $stick } was handed over pressed against the string
fact-gap-off = { $stick } was handed over { $gap } mm from the string; at most { $limit } mm
fact-loaded-unchocked = { $stick } was set down on a row without chocks
fact-needless-motion = the { $motion } was held for { $time } s in all where it could not go
fact-slow-cycle = { $stick } took { $time } s from the gate to the jaws; at most { $limit } s
fact-left-live = the line was left with a stick that could move

act-pitch = left the rails as they were found
act-size-setting = left the escapement set for another size
act-pins = left pins or chocks missing
act-pads = left feet without pads
act-zone = left the zone as it was found
act-interlock = left the interlock defeated
act-load = left too much pipe on the rack
act-machine = left cradles or machine where they were found
act-fault = did not report { $item }
act-pressed = pressed { $button }
act-let-go = let go of feed
act-called = asked to { $call }
act-not-isolated = left the power on
act-not-cleared = did not call people out
act-not-chocked = asked for a stick with the row unchocked
act-no-horn = fed without the horn
act-tarried = let time pass

rescue-emergency-stop = the emergency stop
rescue-let-go = letting go of everything
rescue-isolate = isolating the power
rescue-lower = lowering both lifts
rescue-hold-with-loader = isolating, and the loader holding the stick
rescue-call-out = calling people out with the horn

severity-critical = critical
severity-major = major
severity-minor = minor

score-passed = PASSED with { $points } of 100 points
score-failed-goal = FAILED: what was to be done is not done ({ $points } of 100 points)
score-failed-critical = FAILED by a critical finding ({ $points } of 100 points)
score-failed-broken-off = FAILED: the run was broken off ({ $points } of 100 points)
score-failed-points = FAILED: { $points } of 100 points, { $mark } are needed
score-no-findings = no finding: nothing is taken off
score-line = -{ $points }  { $time } s  { $title } ({ $severity })
score-line-at = -{ $points }  { $time } s  { $title } ({ $severity }), at x { $x } m, z { $z } m
line-rule = Rule: { $rule }
line-act = Act: { $act }, { $time } s
line-fact = What came of it: { $fact }
line-why = Why it matters: { $why }
line-right = Right: { $right }
line-cause = Caused by (run again without it, it does not come): { $act }, { $time } s
line-no-cause = Causes: none of { $tried } acts alone averts it
line-undecided = Not decided within the bounds: { $count }
line-last-chance = Last chance: { $rescue } at { $time } s, { $before } s before
line-no-last-chance = Last chance: none of the rescues tried averts it in the last { $window } s
leading-heading = How near it came
leading-line-of-fire = people in the line of fire    { $time } s
leading-nearest = nearest to moving pipe        { $person }, { $distance } m from { $stick } at { $time } s
leading-soonest = soonest reached by it         { $person }, in { $seconds } s by { $stick } at { $time } s
leading-entry = fastest into the receiver     { $stick }, { $speed } m/s, { $part } % of what leaves the saddle
leading-gate = hardest blow on the gate      { $stick }, { $speed } m/s, { $part } % of the energy that jumps it
explain-why = Why it matters
explain-right = The right act
explain-rule = The rule and its source
