# The report of a recorded run, on paper.
cli-report-about = Write the report of a recording: one HTML page to read, print and sign
cli-report-usage = chockline report [OPTIONS] --out <PAGE> <RECORDING>
cli-report-recording = Recording of a run, from the window or from `chockline run --record`
cli-report-out = Page to write (HTML); it holds everything and needs no network
cli-report-replace = Replace what lies there already, even if it is no report; never the recording
cli-report-no_pictures = Leave the pictures out
cli-value-page = PAGE
cli-report-long =
    The page has the result, the score line by line with causes and right acts, pictures of the decisive moments, the timeline, plots, a plan, the settings against what they should be, lines for signatures, and how to verify it. It reads on a phone and prints on Letter and A4; for a PDF, print it from a browser.

    The exit status is 0 when the page is written, whatever the run came to, and 2 if the recording or the place is bad.
report-no-report = { $file }: this is there already and is no report; give another place, or --replace to write over it
report-running = running it again

paper-title = Report: { $scenario }
paper-sheet-head = { $title } – { $who } – { $result }
paper-sheet-foot = { $caution } To verify: { $command } (SHA-256 of the recording begins { $hash })
paper-who = { $name }
paper-who-simulated = '{ $name }', a simulated operator: { $does }
paper-passed = ✓ Passed
paper-failed = × Failed

paper-summary = Summary
paper-scenario = Scenario
paper-by = At the pendant
paper-task = Task
paper-seed = Seed
paper-duration = Simulated time
paper-lasted = { $time } s
paper-lasted-ended = { $time } s; { $ending }
paper-recorded-by = Recorded by
paper-made-by = Report made by
paper-program = { $program } { $version }
paper-program-at = { $program } { $version }, { $at }
paper-reasons = What was measured

paper-score = Score, line by line
paper-number = No.
paper-time = Time
paper-found = Finding
paper-points = Points
paper-begins = Every run begins with
paper-comes-to = Comes to ({ $mark } are needed)
paper-no-findings = No finding: nothing is taken off.
paper-at = { $time } s
paper-costs = { $points } points
paper-act = Act
paper-act-at = At { $time } s: { $act }.
paper-act-before = Before pipe moved: { $act }.
paper-consequence = What came of it
paper-fact = At { $time } s: { $fact }.
paper-fact-at = At { $time } s, { $x } m from the line's centre and { $z } m along it: { $fact }.
paper-right = The right act
paper-chain = How it came about
paper-caused = Run again without this, it does not come.
paper-no-cause = None of the { $tried } acts that were tried averts it alone.
paper-last-chance = Last chance at { $time } s, { $before } s before: { $rescue }.
paper-no-last-chance = No last chance: none of the rescues tried averts it in the last { $window } s.
paper-came = { $title }, at { $time } s.
paper-undecided = Not decided within the bounds of the inquiry: { $count }.
paper-not-inquired = Not inquired into: it is an act by itself, or not the first finding of its kind.
paper-rule = Rule and source

paper-pictures = Decisive moments
paper-moment = { $heading }, { $time } s
paper-moment-act = The act
paper-moment-point = The last chance
paper-moment-outcome = The outcome
paper-moment-nearest = What came nearest to harm
paper-moment-end = The end
paper-sentence = { $said }.
paper-end = At { $time } s: { $ending }.
paper-picture-shows = The yard, drawn by the program. { $heading }
paper-pictures-left-out = Pictures were left out, as asked.
paper-pictures-need-view = This program was built without its view, so that there are no pictures. The plan and the plots below come from the same run.
paper-pictures-failed = No pictures could be drawn on this machine. { $why } The plan and the plots below come from the same run.
paper-pictures-not-again = There are no pictures: this program comes to something else when it runs the recording again, so that they would show another run.

paper-timeline = Timeline
paper-timeline-shows = Timeline of { $time } s with { $acts } acts, { $events } events and { $findings } findings; the table below lists them.
paper-lane-acts = done
paper-lane-events = happened
paper-lane-findings = found
paper-kind = Kind
paper-what = What
paper-kind-act = done
paper-kind-event = happened
paper-kind-finding = found

paper-curves = Curves
paper-curves-explained = Upright lines stand where something was found, with its number in the score; dotted lines are limits.
paper-plot = { $title }, { $unit }
paper-series = { $name }: least { $least }{ $unit } at { $least_at } s, most { $most }{ $unit } at { $most_at } s.
paper-series-none = { $name }: nothing was measured.
paper-limit = Limit, { $name }: { $value }{ $unit }.

paper-plan = From above
paper-plan-shows =
    The yard from straight above, the rack at the top. { $cones ->
        [0] There are no cones.
       *[other] { $cones } cones make the zone.
    } { $sticks ->
        [one] 1 stick moved.
       *[other] { $sticks } sticks moved.
    } { $people ->
        [0] Nobody was on the site.
        [one] 1 person was on the site.
       *[other] { $people } people were on the site.
    } { $down ->
        [0] {""}
        [one] 1 of them was struck.
       *[other] { $down } of them were struck.
    }
paper-legend-way = way of a stick's middle
paper-legend-was = where it lay at first
paper-legend-walk = way of a person
paper-legend-cones = zone as set out
paper-legend-reach = reach of a loose stick

paper-settings = Settings
paper-setting = What
paper-as-found = As found
paper-as-set = As set
paper-as-should = As it should be
paper-standing = Judgement
paper-standing-right = ✓ right
paper-standing-wrong = × wrong
paper-standing-unusual = ⚠ unusual
paper-settings-explained = 'Unusual' is not as common practice has it for this pipe, which the site may ask for.
paper-degrees = { $value }°
paper-degrees-within = { $low } to { $high }°
paper-millimetres = { $value } mm
paper-metres = { $value } m
paper-kilonewtons = { $value } kN
paper-at-most = at most { $value }
paper-machine = near cradle to the machine's jaws
paper-load = load on the rack at the start
paper-cones =
    { $cones ->
        [0] no cones
        [one] 1 cone
       *[other] { $cones } cones
    }
paper-zone-short = { $cones }, too small by { $by } m
paper-zone-endless = { $cones }, but a loose stick does not stop here
paper-no-zone = no zone
paper-zone-right = round everything that a loose stick can reach
paper-faulty = faulty
paper-sound = sound
paper-put-right = put right
paper-left-faulty = left as it was

paper-signatures = Signatures
paper-signed-demonstration = The pendant was driven by a simulated operator: this is no evidence of anybody's own work.
paper-trainee = Trainee
paper-trainer = Trainer
paper-name = Name
paper-signature = Signature
paper-date = Date
paper-verify = How to verify this report
paper-verified =
    When this report was made, the recording was run again from its controls, and { $states ->
        [one] the one recorded state agreed
       *[other] all { $states } recorded states agreed
    } to the last bit.
paper-not-verified = This program did not come to the same when it ran the recording again; on another machine or with another version that can be. The score is computed from what was recorded; causes, pictures and whatever else can be told only by running it again are left out.
paper-verify-how = Whoever has the recording can do the same with this program:
paper-hash = SHA-256 of the recording's file:
paper-command = chockline replay { $file } --verify
