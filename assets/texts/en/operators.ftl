# Who can be put at the pendant: what they do.
operator-expert = Checks every motion, clears the line, and runs the whole cycle, looking at the stick before each next move.
operator-feeder = Feeds one stick and watches what comes of it; touches nothing else.
operator-lets-go-early = Lets go of feed as soon as the stick moves: the gate comes up under it.
operator-feeds-too-soon = Feeds the next stick while the one before still lies in the cradles.
operator-forgets-the-receiver = Feeds with the receiver down.
operator-lowers-at-once = Lowers while the stick still rocks in the receiver.
operator-one-end-first = Lifts the near end all the way up before the far one.
operator-by-eye = Lifts both ends once, by eye, and trims nothing.
operator-never-turns = Leaves the long axis of an oval stick as it lies.
operator-advances-low = Advances before the stick is raised to the centreline.
operator-into-the-string = Holds advance until the stick is against the string.
operator-rushes-the-joint = Has the jaws opened at half the joint's time.
operator-calls-nobody-out = Neither calls people out of the line nor heeds the spotter.
operator-bars-from-below = Has a hung stick levered from below, with feed held.
operator-jacks-under-load = Cranks the jacks under a hung stick, with feed held.
operator-trusts-the-arrows = Tries no motion before pipe moves.
operator-loads-unchocked = Has the loader set sticks down on a row without chocks.
operator-leaves-it-live = Walks away from the line without isolating it.
operator-heeds-no-spotter = Calls everybody out once, and then does not hear the spotter's stop.

## Why one of them is of no use on a line.
unfit-no-technician = there is no technician to clamp a stick
unfit-no-rigger = there is no rigger
unfit-too-steep = the rack is steeper than it may ever be: set it out anew first
unfit-pitches-apart = the rails' pitches are not alike: set the rack out anew first
unfit-not-set = the escapement is not set for this pipe: set it first
unfit-pins-missing = pins are missing or stuck: the walk-round finds that before any pipe is loaded
unfit-hung-alone = a stick that hangs needs a rigger and a loader to be freed
unfit-wheel = a wheel goes on to its next notch by itself
unfit-interlock = the interlock refuses to feed then
unfit-one-stick = there is only one stick
unfit-receiver-up = the receiver is up to begin with
unfit-round = the pipe is as good as round
unfit-nobody-walks = nobody walks anywhere
unfit-no-load = the loader brings nothing
unfit-rolls = every stick rolls by itself on this rack
unfit-motions-sound = every motion is sound
