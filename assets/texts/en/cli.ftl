# The command line.
cli-about = A training simulator of the pitched-rack line that feeds large polyethylene pipe, one stick at a time, to a butt-fusion machine
cli-usage-heading = Usage:
cli-commands = Commands
cli-arguments = Arguments
cli-options = Options
cli-lang = Language of everything that is said: en or es
cli-help = Print help
cli-version = Print version
cli-value-file = FILE
cli-value-lang = LANG
cli-value-n = N
cli-value-name = NAME
cli-value-command = COMMAND
cli-exit-status = Exit status: 0 passed, 1 the run failed, 2 bad input or usage, 3 a fault of the program.

cli-help-about = Print the help of the program or of one command
cli-help-of = Which command

cli-run-about = Run a scenario without a window and say what came of it, and why
cli-run-file = Scenario file (.ron)
cli-run-operator = Who is at the pendant; `chockline operators` lists them. Without this, the `expert`
cli-run-seed = Start of every random choice of the run, instead of the scenario's own: same seed, same run
cli-run-json = Write the report for machines
cli-run-record = Write a recording: controls, events, poses and state hashes
cli-run-trace = Write a table of every stick and drive over time (CSV, 60 rows a second)

cli-check-about = Check scenario files before a class or a run
cli-check-files = Scenario files (.ron) to check
cli-check-fields = List every field a scenario file can have: what it may hold, its default, its meaning

## What is wrong with arguments.
cli-error = error: { $error }; `chockline --help` says what there is
cli-no-such-language = no texts in the language '{ $code }'; there are { $codes }
cli-unknown-argument = unknown argument '{ $argument }'
cli-unknown-command = unknown command '{ $command }'
cli-missing-argument = missing: { $argument }
cli-argument-twice = '{ $argument }' is given more than once
cli-bad-value = '{ $value }' is no value for '{ $argument }'
cli-missing-value = '{ $argument }' needs a value
cli-not-utf-8 = an argument is not UTF-8
cli-other = { $error }

## What a run says beside its report.
cli-demonstration = No scenario named: the demonstration runs. `chockline --help` says what else there is.
cli-no-such-operator = --operator { $name }: nobody of that name; there are { $names }
cli-operator-of-no-use = --operator { $name } does not apply to this scenario: { $why }
cli-simulating = simulating
cli-simulation-failed = the simulation failed: { $fault }; no result
cli-not-json = the report cannot be written as JSON: { $error }
output-unwritable = { $file }: cannot write: { $error }; give a place that exists, that you may write to and that has room
output-taken = { $file }: this is { $what } already; give each output a file of its own
output-scenario = the scenario
output-report = the report
output-recording = the recording
output-trace = the trace

## What a check says of a sound file.
warning = warning: { $warning }
check-rail = { $pitch } deg { $surface }
check-rails = rails { $rail }
check-two-rails = near rail { $near }, far rail { $far }
check-pin-pair = pin pair set for OD { $od } mm
check-star-wheel = star wheel set for OD { $od } mm
check-row =
    { $sticks ->
        [one] 1 stick
       *[other] { $sticks } sticks
    } of OD { $od } mm, wall { $wall } mm, { $length } m long
check-faults =
    { $file }: { $faults ->
        [one] 1 fault
       *[other] { $faults } faults
    }
cli-examples =
    Examples:
      chockline                                    the demonstration: an expert's cycle
      chockline run scenarios/first-shift.ron      the expert, scored
      chockline run scenarios/wrong-size.ron --operator leaves-the-setting
      chockline operators scenarios/visitor.ron    who is of use on this scenario?
      chockline explain double-feed                why it matters, what is right, the rule
      chockline score run.chock                    score a recording again
      chockline replay run.chock --verify          does all of it follow from its controls?
      chockline report run.chock --out report.html
                                                    a page to read, print and sign
      chockline check scenarios/*.ron              are these files sound?
      chockline sweep scenarios/lab/window.ron --out window
                                                   between which pitches?
      chockline check --fields                     every field a scenario file can have
cli-run-long =
    An operator (by default the expert) sets the line out and drives it. The summary gives the score line by line: the act, what came of it, the right act, what caused it, and until when it could have been averted; then what happened when, how near it came to going wrong, and which values were assumed.

    The exit status is 0 if the scenario passed, 1 if it failed, 2 if the file or an output is bad.
cli-check-long =
    Each file is read, every field is held against what is allowed, and the fields against each other. All faults are listed at once, as file:line:column, the field, what was found, what is allowed and what was probably meant. Warnings point out what can be tried but is not common practice; they do not make a file fail.

    The exit status is 0 if every file is sound and 2 if one is not.
cli-usage = chockline [OPTIONS] [COMMAND]
cli-run-usage = chockline run [OPTIONS] <FILE>
cli-check-usage = chockline check [OPTIONS] [FILE]...
cli-help-usage = chockline help [COMMAND]

cli-score-about = Score a recording again, from what is in it alone
cli-score-recording = Recording that `chockline run --record` wrote
cli-score-json = Write findings, leading figures and score for machines
cli-operators-about = List who can be put at the pendant, and the mistake each of them makes
cli-operators-file = Scenario file (.ron): say also who is of use on it, and why the others are not
cli-explain-about = Explain a finding: why it matters, the right act, the rule and its source
cli-explain-finding = Which finding; without it, all are listed
cli-value-recording = RECORDING
cli-value-finding = FINDING
operators-finding = Found by: { $title } ({ $finding })
operators-of-use = Of use on this scenario
operators-of-no-use = Of no use on it: { $why }
explain-unknown = no finding '{ $name }'; there are { $names }
cli-score-usage = chockline score [OPTIONS] <RECORDING>
cli-operators-usage = chockline operators [FILE]
cli-explain-usage = chockline explain [FINDING]

cli-picture-about = Draw the yard at one moment of a run
cli-picture-usage = chockline picture [OPTIONS] --out <PICTURE> <FILE>
cli-picture-file = Scenario (.ron) or recording (.chock)
cli-picture-at = Seconds from the start of the run; its end where it is shorter
cli-picture-camera = Where from: operator, orbit, plan, line, stick or eyes
cli-picture-size = Width x height in pixels
cli-picture-quality = How much is drawn: low, medium or high
cli-picture-stick = The stick that the stick camera stands beside; else the one being handled
cli-picture-person = The person through whose eyes to look; else the operator
cli-picture-operator = Who runs a scenario until then; else the expert
cli-picture-seed = Where the sticks of a scenario lie; else the scenario's own
cli-picture-out = Picture to write (PNG)
cli-value-seconds = SECONDS
cli-value-camera = CAMERA
cli-value-size = SIZE
cli-value-quality = QUALITY
cli-value-picture = PICTURE
cli-no-such-camera = There is no camera { $name }. Choose one of: { $names }.
cli-no-such-quality = There is no quality { $name }. Choose one of: { $names }.
cli-no-size = { $size } is no size of a picture. Give width and height in pixels, such as { $usual }, each from 16 to { $largest }.
cli-no-moment = { $at } is no moment of a run. Give the seconds since its start, such as 12.5.

no-display = There is no screen to open a window on: DISPLAY is not set. Start the program from a desktop.
no-window = The window system opened no window. It said: { $said }
no-adapter = No graphics adapter can be used. On Linux a Vulkan driver is needed: the one of the graphics card, or mesa-vulkan-drivers to draw by the processor.
adapter-too-old = The graphics adapter { $adapter } cannot draw the yard. It lacks: { $lacks }. A newer driver may help; so does mesa-vulkan-drivers, which draws by the processor.
no-picture = The picture could not be drawn. { $said }
## The laboratory.
cli-sweep-about = Run the trials of a sweep file and say where the line feeds one stick at a time
cli-sweep-usage = chockline sweep [OPTIONS] --out <FOLDER> <FILE>
cli-sweep-file = Sweep file (.ron); scenarios/lab has some
cli-sweep-out = Folder for rows.csv, answer.html, answer.json and the charts
cli-sweep-resume = Go on with what is in the folder already
cli-sweep-part = Run a part of it, I/N, on this machine; /N or array take the number from a job array
cli-sweep-threads = How many trials run at once; 0 is one to each core
cli-sweep-long =
    Each trial loads a row by chance, feeds one stick and ends when it is certain what came of it. Ctrl-C finishes the trials in hand and keeps all rows.

    The exit status is 0 when the answer is written, 1 where it was stopped before, 2 if the file or the folder is bad.
cli-merge-about = Put the parts of a sweep together, and answer
cli-merge-usage = chockline merge --out <FOLDER> <FILE> <FOLDER>...
cli-merge-file = The sweep file that the parts were run from
cli-merge-parts = Folders of all parts
cli-merge-out = Folder for the whole
cli-window-about = Seek the ends of a sweep's window with as few trials as it takes
cli-window-usage = chockline window [OPTIONS] <FILE>
cli-window-file = Sweep file (.ron) with limits
cli-window-within = How exactly, in the unit of what the sweep is drawn against
cli-window-threads = How many trials run at once; 0 is one to each core
cli-value-folder = FOLDER
cli-value-part = PART
cli-value-step = STEP
