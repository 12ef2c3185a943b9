# Records of people, classes and attempts.
records-line = { $text }
records-name = { $name }
records-name-number = { $name } #{ $number }
records-nobody = (no name)

## What is wrong.
records-locked = { $file }: another program is writing to the records; after ten seconds nothing was written, and nothing is lost. Try again; where it stays so, close the other program.
records-read-only = { $file }: the records may not be written; nothing was changed. Give yourself the right to write to the file and its folder.
records-cannot-open = { $file }: the records cannot be opened. Give a place that exists and that you may read and write.
records-disk = { $file }: the disk does not take it: { $error }. Nothing of this was written; what was there before is whole. Make room, or use another disk, and do it again.
records-damaged = { $file }: no store of records, or a damaged one: { $error }. Nothing was changed. A backup is put back with `chockline records restore BACKUP`.
records-database = { $file }: the database says no: { $error }. Nothing was changed.
records-newer = { $file }: these records are of version { $version }, and this program knows version { $known } at most. Nothing was changed. Use the newer program.
records-foreign = { $file }: a database, and not of Chockline's records, or one that has been changed by something else. Nothing was changed.
records-file = { $file }: { $error }
records-none-yet = { $file }: there are no records yet. They begin with the first assessment, or with `chockline records add` or `import`.
records-shared-disk = { $file } lies on a disk of another machine ({ $kind }). One machine at a time may use it there; several at once are not supported, since locks over a network do not hold everywhere and records could be lost. Let every machine keep its own records, and bring them together with `chockline records import`.
records-bad-name = '{ $name }' is no name: one line of 1 to { $longest } characters that does not begin with = + - or @
records-no-person = nobody is called '{ $name }'; `chockline records list people` lists everybody
records-several-people = several people are called '{ $name }'; give the number as well, as NAME#NUMBER: { $numbers }
records-no-class = there is no class '{ $name }'; `chockline records list classes` lists them
records-no-attempt = there is no attempt '{ $attempt }'; `chockline records list` lists them
records-several-attempts = more than one attempt begins with '{ $attempt }'; give more of it
records-no-reason = a correction needs a reason: say it with --why
records-nobody-signs = whoever stands for it needs a name: give it with --by
records-sign-off-void = this attempt does not count, so nobody can sign it off
records-due-nobody = nobody's name stands under this attempt, so nobody can be due again
records-clock-back = the clock of this machine says { $now }, and the attempt began at { $began }. Set the clock, then do it again; nothing was written.
records-add-nothing = nobody to add: give names, or a class with --class
records-number-of-one = a number is one person's: give one name with it
records-forget-sure = This takes out who { $name } was, for good; the attempts stay as nobody's. To do it, add --yes.
records-not-carried = { $file }: these records cannot be taken in: { $why }. Nothing was changed.
records-too-large = the file is too large
records-not-json = { $error }
records-other-format = they are of format { $format }, and this program knows { $known }
records-cannot-be = attempt { $attempt } has a result that cannot be
certificate-none = there is no certificate of an attempt that does not count

## What was done.
records-nothing = There is nothing yet.
records-row-passed = { $id }  { $date }  passed  { $points }  { $name }  { $exercise }
records-row-failed = { $id }  { $date }  failed  { $points }  { $name }  { $exercise }
records-row-fault = { $id }  { $date }  fault   { $points }  { $name }  { $exercise }
records-show =
    { $id }
      Exercise { $scenario } (text { $hash }), seed { $seed }, program { $program }
      { $duration } s, { $breaks ->
        [0] no breaks
        [one] 1 break
       *[other] { $breaks } breaks
    }
      Recording { $recording }
records-class = { $name }: { $people ->
    [one] 1 person
   *[other] { $people } people
}
records-due-row = { $date }  { $name }  { $exercise }
records-due-on = Due again on { $date }
records-due-set = { $name } is due again on { $date }.
records-signed = Signed off by { $by }, { $date } { $note }
records-signed-off = { $attempt } is signed off by { $by }.
records-corrected = { $attempt } is corrected; what stood there before still stands.
records-corrected-void = does not count
records-corrected-person = was made by { $person }
records-corrected-note = note
records-added = { $new ->
    [one] 1 person
   *[other] { $new } people
} added.
records-added-class = { $new ->
    [one] 1 person
   *[other] { $new } people
} added; the class { $name } has { $people }.
records-forgotten = { $name } is forgotten here; the attempts stay as nobody's.
records-forget-recordings = Recordings of these attempts may still say who it was; delete them: { $files }
records-forget-elsewhere = Not reached by this: backups, exports, pages, other machines' records, and what has been sent to a record store. Deal with those yourself.
records-written = { $file } is written.
records-taken-in = { $file }: { $attempts ->
    [one] 1 attempt
   *[other] { $attempts } attempts
} taken in, { $known } known already; new people: { $people }; new corrections and sign-offs: { $remarks }
records-differs = Attempt { $attempt } is here already with another result; the one here stands. Find out which is right.
records-taken-as-is = Results are taken in as they were written. What proves a run is its recording: `chockline replay RECORDING`.
records-restored = { $file } is as it was in { $from }.
records-restore-kept = The records as they were before are kept as { $file }.
records-checked = { $file }: { $attempts ->
    [one] 1 attempt
   *[other] { $attempts } attempts
}, version { $version }
records-own-disk = It lies on a disk of this machine; several programs may write to it at once.
records-clock-went-back = The clock was put back { $times ->
    [one] once
   *[other] { $times } times
} between two attempts: times may be wrong, and the order is that of writing.
records-sound = It is sound.
records-unsound = It is damaged; put a backup back with `chockline records restore BACKUP`. The database says:
output-records = the records

## A class at a glance.
summary-class = Class { $name }
summary-everybody = Everybody
summary-head = { $who }: { $people ->
    [one] 1 person
   *[other] { $people } people
}, { $attempts ->
    [one] 1 attempt
   *[other] { $attempts } attempts
}
summary-nobodys = { $attempts ->
    [one] 1 attempt
   *[other] { $attempts } attempts
} without a name
summary-exercises = Who passed what
summary-earlier = { $text } (no longer taught in this form)
summary-exercise = { $title }: tried by { $tried }, passed by { $passed }, mastered by { $mastered } ({ $attempts ->
    [one] 1 attempt
   *[other] { $attempts } attempts
})
summary-people = People
summary-person = { $name }: { $attempts ->
    [one] 1 attempt
   *[other] { $attempts } attempts
}, passed { $passed }, mastered { $mastered }
summary-person-open = { $person }; not passed yet: { $open }
summary-findings = What is found most
summary-finding = { $title }: { $people ->
    [one] 1 person
   *[other] { $people } people
}, { $times ->
    [one] once
   *[other] { $times } times
}, { $points } points
summary-rounds = From attempt to attempt at one exercise
summary-round = attempt { $nth }: { $passed } % passed, { $points } points on average ({ $attempts ->
    [one] 1 attempt
   *[other] { $attempts } attempts
})
summary-round-last = attempt { $nth } and later: { $passed } % passed, { $points } points on average ({ $attempts ->
    [one] 1 attempt
   *[other] { $attempts } attempts
})
summary-next = To teach next
summary-open = { $title }: still in the last attempt of { $people ->
    [one] 1 person
   *[other] { $people } people
}
summary-open-right = { $open }. Right: { $right }
summary-next-exercise = Next exercise: { $title }, mastered by { $mastered } of { $people } (passed twice, with different seeds)

## Statements and sending them.
xapi-attempted = attempted
xapi-passed = passed
xapi-failed = failed
xapi-completed = completed
xapi-voided = voided
send-no-address = '{ $address }' is no address of a record store: give it as https://HOST/PATH, without user, question mark or number sign
send-in-clear = { $address }: the password would go over an open line; give an address that begins with https://
send-no-certificate = { $file }: no certificates can be read there: { $error }
send-no-password = There is no password: set the environment variable { $variable }, or call the program from a terminal, where it asks. It is not kept.
send-password = Password of the record store:{" "}
send-busy = Another program is sending from these records; wait until it is done.
send-no-answer = no answer from the record store: { $error }
send-later = the record store cannot take it now ({ $status }): { $answer }
send-not-allowed = The record store does not know user and password, or does not allow it ({ $status }): { $answer }
send-elsewhere = The record store says that it is elsewhere ({ $status }): { $answer }. Give its own address; nothing is sent to another one.
send-no-store-there = There is no record store at this address ({ $status }): { $answer }
send-odd-answer = The record store gives an answer that says nothing ({ $status }): { $answer }
send-waits = { $why }; once more in { $seconds } s
send-sent = { $sent ->
    [one] 1 statement
   *[other] { $sent } statements
} sent, { $already } there already, { $waiting } waiting
send-nobodys = { $attempts ->
    [one] 1 attempt
   *[other] { $attempts } attempts
} without a name: nothing is stated about nobody
send-refused = { $refused ->
    [one] 1 statement is
   *[other] { $refused } statements are
} not taken by the record store, the last because: { $answer }
send-again = What waits is kept in the records; give the command again to send it. Nothing is sent twice: each statement has one id for good.

## The page about one attempt.
certificate-title = Certificate of attempt
certificate-what = A result in a simulator. It says what was tried and what came of it, and nothing else.
certificate-trainee = Trainee
certificate-exercise = Exercise
certificate-trains = What it trains
certificate-at = Begun
certificate-duration = Took
certificate-lasted = { $minutes } min, { $breaks ->
    [0] no breaks
    [one] 1 break
   *[other] { $breaks } breaks
}
certificate-version = Version
certificate-version-is = Chockline { $program }; exercise { $scenario }, text { $hash }, seed { $seed }
certificate-due = Due again
certificate-passed = PASSED: { $points } of 100 points (mark { $mark })
certificate-failed = NOT PASSED: { $points } of 100 points (mark { $mark })
certificate-findings = Findings
certificate-time = Time
certificate-finding = Finding
certificate-severity = How grave
certificate-points = Points
certificate-corrections = Corrections
certificate-correction = { $date }: { $what }, by { $by }: { $why }
certificate-no-evaluation = Time in a simulator does not replace evaluation at the workplace. Nobody is qualified or authorised by this page; whoever employs the trainee evaluates them on the machine and at the site where they work.
certificate-evaluator = Evaluator
certificate-signed = Signed off by { $by }, { $date }.
certificate-unsigned = Not signed off in the records.
certificate-evaluator-signs = Evaluator, date:
certificate-trainee-signs = Trainee, date:
certificate-id = Attempt { $attempt }. Recording { $recording }

## The command.
cli-records-about = What is kept of people, classes and attempts: look, sign off, export, send
cli-records-usage = chockline records [OPTIONS] [COMMAND]
cli-records-long =
    Every assessment in the window is kept as an attempt, with its findings, in one file. Attempts are only ever added to: what was wrong about one is put right by a correction that says why. Without a command, the attempts are listed.

    Of people the records hold a name, a number where two have one name, their classes, and what they did. No name belongs into reasons and notes.
cli-records-store = File of the records, instead of the one in the folder for data
cli-value-store = STORE
cli-value-what = WHAT
cli-value-person = PERSON
cli-value-class = CLASS
cli-value-exercise = EXERCISE
cli-value-attempt = ATTEMPT
cli-value-text = TEXT
cli-value-date = DATE
cli-value-address = ADDRESS
cli-records-list-about = List attempts, people, classes or who is due
cli-records-list-usage = chockline records list [OPTIONS] [WHAT]
cli-records-list-kind = attempts (if nothing is said), people, classes or due
cli-records-list-person = Of one person: NAME, or NAME#NUMBER
cli-records-list-class = Of one class
cli-records-list-exercise = At one exercise, by the name of its file without .ron
cli-records-show-about = Show all there is about one attempt
cli-records-show-usage = chockline records show <ATTEMPT>
cli-records-show-attempt = By its id, the first digits of it, or the name of its recording without ending
cli-records-summary-about = Sum up a class: who passed what, what is found most, how it goes on, what to teach next
cli-records-summary-usage = chockline records summary [OPTIONS]
cli-records-summary-class = Which class; without it, everybody
cli-records-summary-json = Write it for machines as well
cli-records-add-about = Add people, a class, or people to a class
cli-records-add-usage = chockline records add [OPTIONS] [NAME]...
cli-records-add-people = Names; whoever is there already is not added again
cli-records-add-number = Tells people of one name apart
cli-records-add-class = The class that they are in, which is made if it is new
cli-records-sign-off-about = Stand for an attempt as its evaluator
cli-records-sign-off-usage = chockline records sign-off [OPTIONS] --by <NAME> <ATTEMPT>
cli-records-sign-off-attempt = Which attempt
cli-records-sign-off-by = The evaluator
cli-records-sign-off-note = What the evaluator has to say; no names
cli-records-sign-off-due = When the trainee is due again at this exercise, as YYYY-MM-DD
cli-records-due-about = Say when somebody is due again
cli-records-due-usage = chockline records due [OPTIONS] <PERSON> <DATE>
cli-records-due-person = Who: NAME, or NAME#NUMBER
cli-records-due-on = When, as YYYY-MM-DD
cli-records-due-exercise = At which exercise; without it, all of it
cli-records-correct-about = Put an attempt right; it stays written, and the correction says why
cli-records-correct-usage = chockline records correct [OPTIONS] --why <TEXT> --by <NAME> <ATTEMPT>
cli-records-correct-attempt = Which attempt
cli-records-correct-why = Why; no names
cli-records-correct-by = Who says so
cli-records-correct-void = It does not count
cli-records-correct-person = It was somebody else's
cli-records-certificate-about = Write a page about one attempt, to print
cli-records-certificate-usage = chockline records certificate --out <PAGE> <ATTEMPT>
cli-records-certificate-attempt = Which attempt
cli-records-certificate-out = Page to write (HTML, one file)
cli-records-export-about = Write attempts as a table, as xAPI statements, or to carry to another machine
cli-records-export-usage = chockline records export [OPTIONS]
cli-records-export-csv = Table (CSV by RFC 4180)
cli-records-export-xapi = Statements (xAPI 1.0.3) as a JSON list
cli-records-export-records = Records for `chockline records import` on another machine
cli-records-export-class = Of one class; without it, all
cli-records-import-about = Take in records of other machines; taking them in twice changes nothing
cli-records-import-usage = chockline records import <FILE>...
cli-records-import-files = Records that `export --records` wrote, or another machine's records.sqlite or backup
cli-records-send-about = Send attempts to a record store as xAPI statements
cli-records-send-usage = chockline records send [OPTIONS] --to <ADDRESS> --user <NAME>
cli-records-send-long =
    The password is taken from the environment variable CHOCKLINE_PASSWORD, or asked for. What cannot be sent now waits in the records until the command is given again. A statement has one id for good, so that one whose answer was lost on the way can be sent again without being there twice.

    People go by an id, never by their name.
cli-records-send-to = Address of the record store, below which it has its statements
cli-records-send-user = User of the record store
cli-records-send-certificates = Certificates (PEM) to trust instead of the usual ones, where the record store is your own
cli-records-send-class = Of one class; without it, all
cli-records-send-tries = How often something is tried before it is left for another time
cli-records-backup-about = Write a copy of the records, also while others write to them
cli-records-backup-usage = chockline records backup <FILE>
cli-records-backup-to = File to write; there must be none of this name yet
cli-records-restore-about = Put a backup in the place of the records; those are kept beside it
cli-records-restore-usage = chockline records restore <FILE>
cli-records-restore-from = Backup
cli-records-check-about = Look through the whole file of the records
cli-records-check-usage = chockline records check
cli-records-forget-about = Take out who somebody was; their attempts stay as nobody's
cli-records-forget-usage = chockline records forget [OPTIONS] <PERSON>
cli-records-forget-person = Who: NAME, or NAME#NUMBER
cli-records-forget-yes = Do it; it cannot be undone
