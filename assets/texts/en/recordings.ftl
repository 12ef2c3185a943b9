# Recordings: reading them, running them again, and what that proves.

recording-bad = { $file }: { $error }
recording-unreadable = cannot read: { $error }
recording-none = this is no recording of this program
recording-other-format = a recording of format { $format }; this program reads format { $known }
recording-newer-format = a recording of format { $format }, of a newer program; this one reads format { $known }: take a newer one
recording-too-large = larger than any recording ({ $most } MiB)
recording-damaged = changed or damaged from byte { $byte } on; it was complete once, so that nothing in it is trusted: take another copy
recording-unsound = what stands at byte { $byte } was not written by this program; nothing in it is trusted
recording-scenario = the scenario in it is not sound: { $fault }
recording-set-out = the set-out in it is not possible: { $fault }
recording-log = its log does not fit its scenario: the file has been changed or damaged
recording-cut-short =
    Cut short: the program or the power went at { $time } s (tick { $tick }) or soon after.{ $bytes ->
        [0] {""}
       *[other] {" "}The last { $bytes } bytes were not wholly written and are left out.
    }
leftover-unreadable = { $file }: the beginning of a recording that cannot be read: { $error }; it is put aside

cli-replay-about = Say what a recording holds and what happens in it; prove that it is true
cli-replay-recording = Recording of a run, from the window or from `chockline run --record`
cli-replay-verify = Hold every state, event and pose against what the controls in it lead to
cli-replay-usage = chockline replay [OPTIONS] <RECORDING>
cli-replay-long =
    The scenario, the set-out and the controls in the recording are simulated anew.

    With --verify every state hash, pose, event and sample, the outcome and the score must be as recorded, to the last bit; if they are not, it is said after which tick and at which part the run departs. Where the recording was made by another version, or on a machine of another kind, bits may differ: then the score is found again from the recording's own log, the events are held against its poses, and it is said which of these was proved.

    The exit status is 0 if all is verified (without --verify: if the run passed), 1 if something is not as recorded (the run failed), 2 if the recording cannot be read, 4 if it was made where bits may differ and only score and poses were proved, 5 if it was cut short and all that there is of it is verified.
replay-of = { $course }, seed { $seed }; { $mode }; operator '{ $operator }'
replay-trainee = Trainee: { $trainee }
replay-made = Begun { $at }, recorded by { $program } { $version } on { $platform }
replay-checksum = Checksum { $checksum }
replay-passed = Recorded as passed: { $points } of 100 points; { $outcome }
replay-failed = Recorded as not passed: { $points } of 100 points; { $outcome }
replay-event = { $time } s  { $event }
replay-ends = { $time } s  the end (tick { $tick })
replay-verified =
    Verified: { $states ->
        [one] 1 state agrees
       *[other] all { $states } states agree
    } to the last bit, to tick { $tick } ({ $time } s), and so do poses, events, samples, outcome and score.
replay-verified-so-far =
    Verified as far as it goes: { $states ->
        [one] 1 state agrees
       *[other] all { $states } states agree
    } to the last bit, to tick { $tick } ({ $time } s), and so do poses, events and samples. There is no outcome and no score in it.
replay-departs = Departs from the recording at tick { $tick } ({ $time } s): { $body } is not as recorded.
replay-departs-too = Within the same second also: { $body }
replay-departs-somewhere = Departs from the recording at tick { $tick } ({ $time } s).
replay-poses = Every state agrees, but at tick { $tick } ({ $time } s) the recorded pose of { $body } is another.
replay-log = Every state agrees, but events or samples are not as recorded.
replay-outcome = Every state agrees, but the outcome is not as recorded.
replay-score = Every state agrees, but the score is not as recorded.
replay-not-verified = NOT VERIFIED: this program gives the same bits as the one that recorded it, so the recording is not what its controls lead to.
replay-other-bits = It was recorded by another version, or on a machine of another kind: bits may differ, so that a departure proves nothing.
replay-score-follows = Proved: outcome, findings and points as recorded follow from the log in the recording.
replay-score-does-not-follow = NOT SO: findings and points as recorded do not follow from the log in the recording.
replay-no-score = There is no score in it to be proved.
replay-poses-fit =
    Proved: { $events ->
        [one] 1 event happened
       *[other] all { $events } events with a place happened
    } where the { $poses } recorded poses have the stick.
replay-contradicted = NOT SO: the event at tick { $tick } ({ $time } s) is not where the recorded poses have its stick.
replay-looks-alike = Run again here it looks the same: no stick is ever more than 10 mm from where it was.
replay-looks-other = Run again here it looks the same up to tick { $tick } ({ $time } s): then a stick is more than 10 mm from where it was.
replay-not-proved = Not proved here: that the controls lead to all this. Verify it with the version that recorded it, on a machine of that kind.

body-rack = the rack
body-escapement = the escapement
body-receiver = the receiver
body-cradles = the cradles
body-machine = the fusion machine
body-loader = the loader
body-chocks = the chocks
body-people = the people
body-zone = who is in the zone
recording-part-stands = What there is of the recording stands in { $file }.
