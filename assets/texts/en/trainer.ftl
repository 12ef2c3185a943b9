# The trainer's screen: classes, people, their attempts.
title-trainer = Classes and people
title-trainer-note = For the trainer: who passed what, assess, sign off, print
window-trainer = Classes and people
window-trainer-person = Person

trainer-title = Classes and people
trainer-classes = Classes
trainer-other-class = Choose another class
trainer-class-people = { $people ->
    [one] 1 person
   *[other] { $people } people
}
trainer-people = People
trainer-glance = At a glance
trainer-going = { $runs ->
    [0] Going on now: none
    [one] Going on now: 1
   *[other] Going on now: { $runs }
}
trainer-add-people = Add people
trainer-add-class = New class
trainer-seek = Find a name
trainer-none-found = No name here has that in it.
trainer-nobody = Nobody is here yet. Add people, or let somebody be assessed under their name.

## The table.
trainer-name = Name
trainer-attempts = Attempts
trainer-passed = Passed
trainer-last = Last attempt
trainer-due = Due again
trainer-none = none yet
trainer-no-date = no date
trainer-passed-of = { $passed } of { $of }
trainer-last-said = { $date }, { $exercise }: { $result }
trainer-overdue = { $date }, overdue
trainer-due-at = { $date }, { $exercise }
trainer-overdue-at = { $date }, { $exercise }, overdue
trainer-result-passed = passed, { $points } points
trainer-result-failed = not passed, { $points } points
trainer-result-broken = broken off, not passed
trainer-result-fault = no result: the simulation failed
trainer-result-void = does not count ({ $result })
trainer-not-passed = tried, not passed; { $points } points at best

## A class at a glance.
trainer-sign-mastered = mastered
trainer-sign-passed = passed, best points
trainer-sign-failed = tried, not passed, best points
trainer-sign-none = not tried yet

## Runs that are going on.
trainer-going-none = Nobody is running the line now.
trainer-going-how = A run is listed from the line's first tick on, whichever window of this program on this machine makes it. To watch while somebody trains, start Chockline a second time: this window is then yours.
trainer-going-nobody = Somebody without a name
trainer-going-shown = Shown by the program: { $operator }
trainer-going-what = { $exercise }, { $mode }
trainer-going-since = Began { $minutes ->
    [0] less than a minute
    [one] 1 minute
   *[other] { $minutes } minutes
} ago
trainer-going-run = { $time } min on the line, { $events ->
    [0] nothing has happened yet
    [one] 1 event
   *[other] { $events } events
}
trainer-going-last = Last, at { $time }: { $event }
trainer-going-breaks = { $breaks ->
    [one] 1 break
   *[other] { $breaks } breaks
} so far
trainer-going-still = Stands still for { $seconds } s: held, or on a break
trainer-going-unread = More cannot be read while it is being written.

## A person.
trainer-person-attempts = { $attempts ->
    [one] 1 attempt
   *[other] { $attempts } attempts
} that count; passed { $passed } of { $of } exercises.
trainer-person-due = Due again: { $due }
trainer-their-attempts = Attempts, the last first
trainer-attempt-note = { $date }. { $signed }
trainer-no-attempt = Choose an attempt to see what was found.
trainer-signed = Signed off by { $by }
trainer-unsigned = Not signed off
trainer-attempt-facts = { $date } UTC, { $minutes } min, { $breaks ->
    [0] no breaks
    [one] 1 break
   *[other] { $breaks } breaks
}. Load { $seed }, program { $program }.
trainer-found = { $severity }, at { $time }, { $points } points

trainer-assess = Assess
trainer-assess-means = The pendant is handed over: brief, set-out, the line. It ends as a result under this name, whatever happens.
trainer-assess-do = Assess: { $exercise }
trainer-assess-other = Another exercise
trainer-assess-others = Other sticks than everybody has (to master an exercise it is passed with two loads)
trainer-set-due = Set a due date
trainer-set-due-do = Set the date
trainer-months = in { $months ->
    [one] 1 month
   *[other] { $months } months
}
trainer-date = Date, as YYYY-MM-DD
trainer-date-fault = That is no date: write year, month and day, as 2027-03-31.
trainer-due-for = For what
trainer-due-all = All of it
trainer-sign-off = Sign off
trainer-sign-off-means = You stand for this attempt as its evaluator. It does not replace evaluation at the workplace.
trainer-sign-off-title = Sign this off?
trainer-sign-off-sure = { $exercise }, { $date }: { $result }. { $by } stands for it. A signature cannot be taken back.
trainer-sign-off-yes = Sign off
trainer-sign-off-no = Not yet
trainer-by = Your name
trainer-note = Note, if there is something to say; no names
trainer-void = Does not count
trainer-void-means = The attempt stays written down with your reason beside it, and counts no more. That cannot be taken back.
trainer-void-do = Let it not count
trainer-why = Why; no names
trainer-certificate = Certificate
trainer-report = Report
trainer-leave = Leave it
trainer-class-name = Name of the class
trainer-add-class-do = Make the class
trainer-into-class = They come into the class { $class }.
trainer-into-none = They come into no class. To put them into one, choose it first.
trainer-names = Names, one a line
trainer-number = Number, where somebody of this name is here already; mostly empty
trainer-number-of-one = A number is one person's: write one name with it.
trainer-add-people-do = Add { $people ->
    [one] 1 person
   *[other] { $people } people
}

## What is done, and what came of it.
trainer-reading = The records are being read.
trainer-writing = It is being written.
trainer-class-made = The class { $class } is there.
trainer-is-signed = Signed off by { $by }.
trainer-is-void = It does not count any more.
trainer-still-here = { $fault } What you wrote is still here.
trainer-page-making = The report is being made: the run is simulated once more, which takes a while.
trainer-page-saved = { $file } is written and opens in your browser: print it there.
trainer-page-not-opened = { $file } is written. No browser could be opened; open the file yourself to print it.
trainer-no-recording = There is no report: the recording of this attempt is not on this machine any more, or never was.
trainer-thread-lost = The records cannot be worked with any more; leave this screen and come back.
