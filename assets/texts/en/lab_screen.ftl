# The laboratory in the window.
window-lab = Laboratory
window-lab-watch = A trial of the laboratory
title-laboratory = Laboratory
title-laboratory-note = Between which pitches a line feeds one stick at a time, and how sure that is

labscreen-title = Laboratory
labscreen-caution = A simulated answer may only narrow the limits of the trade and of the maker, never widen them: a rack of { $low } to { $high }°, never above { $never }°, and what the maker's manual says. What is given is sampling confidence given these assumptions: how far the count of trials can be trusted, not how far the model can.
labscreen-rack = Laboratory rack: six sticks, nothing else
labscreen-set-up = Set up
labscreen-picture = Picture
labscreen-trials = Trials

labscreen-base = Scenario to start from
labscreen-base-note = Choose another one
labscreen-pitches = Pitches that are looked at
labscreen-pitch = Pitch of the rack
labscreen-step = In steps of
labscreen-from = { $what }: from
labscreen-to = { $what }: to
labscreen-varies = What varies from trial to trial
labscreen-vary = Vary something else too
labscreen-unmeasured = Nobody has measured it
labscreen-leave = No longer vary { $what }
labscreen-second = Compared with
labscreen-second-none = Nothing yet. A second set-up gets the same random numbers, so that differences are no luck.
labscreen-compare = Compare with a second set-up
labscreen-change = Change something else in it too
labscreen-undo = Leave { $what } as in the scenario
labscreen-instead = { $value } instead of { $base }
labscreen-follows = what follows from the rest
labscreen-accepted = Risks that are accepted
labscreen-below = below { $below }
labscreen-confidence = Sampling confidence
labscreen-chance = Chance
labscreen-seed = seed
labscreen-seed-note = The same seed gives the same trials, to the last bit. Another one shows how much is luck.
labscreen-trials-each = Trials at each pitch
labscreen-trials-all = { $trials } trials in all, at { $pitches ->
        [1] one pitch
       *[other] { $pitches } pitches
    }
labscreen-choose-variable = What is to vary?
labscreen-choose-second = What does the second set-up have otherwise?
labscreen-without = Back without choosing
labscreen-seek = Look for
labscreen-none-found = No field has that in its name or its meaning.
labscreen-fault = { $place }: { $what }

labscreen-run = Run it
labscreen-run-anew = Run it anew
labscreen-stop = Stop
labscreen-go-on = Go on
labscreen-stage-nothing = nothing has been run yet
labscreen-stage-running = running
labscreen-stage-stopping = finishing the trials in hand
labscreen-stage-stopped = stopped, its rows are kept
labscreen-stage-done = done
labscreen-stage-failed = could not go on, its rows are kept
labscreen-pace = { $done } of { $of } trials, { $rate } a second, { $left } left
labscreen-rows = { $done } of { $of } trials
labscreen-changed = The picture shows what was set when it was run. What is set now has not been run.
labscreen-set-back = Set what the picture shows

labscreen-window = One stick is fed between
labscreen-marks = Upright lines: the trade's least and most, and never above.
labscreen-axis-pitch = pitch [deg]
labscreen-axis-share = probability [%], with the sampling confidence of { $confidence } % given these assumptions
labscreen-curves = Pitch that is looked at { $what }
labscreen-nothing = The closed forms are above, at once. Run the simulation to see how often which pitch goes wrong.
labscreen-compared = { $event }: of { $all } trials { $both } with both, { $first_alone } only { $first }, { $second_alone } only { $second }. If neither were better, so uneven a split would come with a probability of { $by_chance }.
labscreen-save = Save the answer sheet
labscreen-save-note = As a page with its charts, beside the rows in your folder for data.
labscreen-saving = The sheet is being made
labscreen-saved = { $file }: the sheet; its charts and the rows lie beside it

labscreen-trials-none = Once something has run, point at a pitch of the picture, and its trials are listed here. Each can be watched as it was run.
labscreen-trials-note = Choose a trial to see it.
labscreen-point = Trials at { $pitch }
labscreen-number = Trial { $trial }
labscreen-trial = Trial { $trial } at { $pitch }
labscreen-trial-of = Trial { $trial } at { $pitch }, { $set_up }
labscreen-all = all
labscreen-kind = { $what }: { $count }
labscreen-kind-failed = failed
labscreen-failed = Failed, counts as every event: { $why }
labscreen-trials-empty = No such trial yet.
labscreen-page = Page
labscreen-page-of = { $page } of { $pages }
labscreen-play = Let it run
labscreen-hold = Hold it
labscreen-watch = Watch it in the whole window
labscreen-again = From its beginning
labscreen-speed = Speed of time
labscreen-watch-back = Back to the laboratory
labscreen-same = The same as in its row, to the last bit: certain after { $time } s.
labscreen-other = Not what its row says. The rows may come from another version of the program: run them anew.
lab-thread-lost = the sweep was broken off inside the program; its rows are kept, go on to try again
