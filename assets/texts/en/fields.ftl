# The fields of a scenario file, by group and name.

group-File = A scenario: what the run is about, and the line it is run on.
field-File-format = Version of this file format
field-File-name = Name shown in lists and reports
field-File-author = Who wrote the scenario
field-File-brief = What the trainee is told before the run
field-File-trains = What the scenario trains, for the trainer
field-File-seed = Start of every random choice of the run: same seed, same run
field-File-time_limit_s = Time after which the run ends, whatever has come of it
field-File-hazards = What can go wrong in it, for the trainer
field-File-level = How hard it is: 1 for a first lesson, 5 for a crew that knows the line
field-File-takes_min = How long it takes a trainee, with brief and debrief
field-File-goal = What is to be done: every stick joined to the string, one stick fed and the rest held, or no stick let off the rack
field-File-set_out_open = The line can be set out anew before pipe is loaded; false where pipe lies on the rack already
field-File-hand = Side of the line on which the rack stands, for somebody who faces the fusion machine

group-Spanish = The texts of the scenario in Spanish; what is left out is shown as it is.
field-Spanish-name = Name
field-Spanish-brief = Brief
field-Spanish-trains = What it trains
field-Spanish-hazards = What can go wrong in it

group-Scores = How a run is scored: 100 points, less what each finding costs.
field-Scores-pass_mark = Least score that passes
field-Scores-critical_points = What a critical finding costs; it fails the run whatever it costs
field-Scores-major_points = What a major finding costs
field-Scores-minor_points = What a minor finding costs
field-Scores-handling_time_s = Longest time from the feed to the jaws

group-OwnPoints = A kind of finding that costs something else.
field-OwnPoints-finding = Which
field-OwnPoints-points = What it costs

group-Pipe = The pipe the row is made of.
field-Pipe-size = Nominal size; metric pipe is taken as made to AS/NZS 4130
field-Pipe-wall = Wall by its ratio, or the least wall itself; Dr and Sdr are the same ratio, and the size decides whose tolerances apply
field-Pipe-length_m = Length of a stick
field-Pipe-ovality_pct = How oval a stick is: greatest less smallest diameter, as a part of the mean one
field-Pipe-temperature_c = Temperature of the pipe
field-Pipe-density_kg_m3 = Density of the pipe

group-Row = The sticks on the rack, the first one at the gate.
field-Row-sticks = How many sticks
field-Row-gap_mm = Clear gap on the downhill side of each stick, to the next one or to the gate, measured as if none were skewed
field-Row-long_axis_deg = How far the long axis of an oval stick is turned up from the rails: 0 lies flat, 90 stands upright
field-Row-yaw_deg = Skew as loaded; positive has the end at the machine further up the rack
field-Row-offset_m = How far a stick's middle lies off the middle of the rails; positive is towards the machine

group-Scatter = How exactly a loader sets sticks down: an assumption. Each stick deviates by chance, evenly up to these numbers to either side; the seed decides.
field-Scatter-gap_mm = Greatest widening of a gap; gaps never become narrower
field-Scatter-long_axis_deg = Greatest deviation of the long axis
field-Scatter-yaw_deg = Greatest deviation of the skew; where it brings ends closer together, the gap is widened by as much
field-Scatter-offset_m = Greatest deviation of the middle, as far as the rails allow

group-StickOverride = One stick that differs from the rest of the row; what is left out is as in the row.
field-StickOverride-stick = Which stick, counted from the gate
field-StickOverride-size = Nominal size
field-StickOverride-wall = Wall
field-StickOverride-length_m = Length
field-StickOverride-ovality_pct = Ovality
field-StickOverride-gap_mm = Clear gap on its downhill side
field-StickOverride-long_axis_deg = How far its long axis is turned up from the rails
field-StickOverride-yaw_deg = Skew as loaded
field-StickOverride-offset_m = How far its middle lies off the middle of the rails

group-Rack = The feed rack: two parallel rails that slope down to the line.
field-Rack-pitch_deg = Slope of both rails
field-Rack-surface = Surface of both rails
field-Rack-rail_spacing_m = Distance between the middles of the two rails, along the line
field-Rack-toe_height_m = Height over the ground of the rails' surface at the toe, their low end
field-Rack-length_m = Length of the rails along their slope, from the toe to the high end
field-Rack-rail_width_m = Width of the surface that carries the pipe, along the line
field-Rack-rated_load_kn = Greatest load that the rack's plate allows

group-Rail = One rail; the near one is towards the fusion machine.
field-Rail-pitch_deg = Slope of this rail
field-Rail-surface = Surface of this rail
field-Rail-foot_padded = There is a pad under the jack's foot at the high end

group-Escapement = The device that holds the row and lets one stick go.
field-Escapement-kind = Gate pin and separator pin on each rail, or a notched wheel on each
field-Escapement-size_setting = Size the pins or the wheel are set for; another than the pipe's can be tried
field-Escapement-force_max_kn = Greatest force of one pin, or of a wheel at its tip
field-Escapement-stroke_time_s = Time of one stroke or one notch without load
field-Escapement-interlock = Feed is refused unless the receiver is up and empty; with false that is defeated

group-Receiver = The pair of arms at the toe that takes the stick down to the line.
field-Receiver-starts_up = The arms are up when the run begins
field-Receiver-travel_m = Height by which the arms go down
field-Receiver-force_max_kn = Greatest lifting force of one arm
field-Receiver-travel_time_s = Time of the whole travel without load

group-Cradles = The two cradles that lift, shift, turn and advance the stick.
field-Cradles-spacing_m = Distance from the far cradle to the near one; the middle between them is the middle of the rails
field-Cradles-turning = How a stick is turned: by the far cradle's rollers, or rolled along the raised receiver by shifting both cradles
field-Cradles-surface = Surface of the rollers
field-Cradles-lift_stroke_m = Stroke of a lift, up from its lowest place
field-Cradles-lift_time_s = Time of the whole stroke without load
field-Cradles-lift_force_max_kn = Greatest force of one lift
field-Cradles-shift_range_m = Travel of a side-shift from one end to the other, half of it to either side of the column
field-Cradles-shift_time_s = Time of the whole travel without load
field-Cradles-shift_force_max_kn = Greatest force of one side-shift
field-Cradles-advance_m_per_s = Speed of the near cradle's rollers along the line
field-Cradles-advance_force_max_kn = Greatest pull of the near cradle's rollers
field-Cradles-turn_m_per_s = Surface speed of the far cradle's turning rollers
field-Cradles-turn_force_max_kn = Greatest pull of the turning rollers

group-Column = The lift column of one cradle as it is set out.
field-Column-offset_mm = How far it stands off the line's centre; positive is away from the rack
field-Column-lean_deg = How far it is out of plumb; positive leans away from the rack
field-Column-rack_foot_padded = There is a pad under the foot on the rack's side
field-Column-outer_foot_padded = There is a pad under the foot on the other side

group-Machine = The fusion machine.
field-Machine-near_cradle_to_jaws_m = Distance from the near cradle to the centre of the jaws
field-Machine-half_length_m = Distance from the centre of the jaws to the machine's end that faces the cradles
field-Machine-centreline_m = Height of the jaws' centreline over the ground
field-Machine-grip_force_max_kn = Greatest force with which the jaws draw an end on to the centreline
field-Machine-joint_time_s = From clamping to the end of cooling, shortened for training: the real one is set by the joining procedure
field-Machine-draw_m_per_s = Speed with which the finished string is drawn on

group-Loader = A loader with two forks. It brings more sticks, one at a time, each like the last one of the row.
field-Loader-sticks = How many sticks it brings; with 0 there is no loader
field-Loader-fork_spread_m = Distance of the two forks, middle to middle
field-Loader-fork_length_m = Length of a fork. The tips of a longer one come down before the stick: it must be set down further from the row
field-Loader-capacity_kg = Rated capacity, by the maker's plate
field-Loader-load_centre_m = Rated load centre: how far from the fork face a load of the rated capacity may be
field-Loader-back_tilt_deg = Back-tilt of the forks while carrying
field-Loader-off_middle_m = How far the forks' middle is off the stick's when it is picked up; positive is towards the machine
field-Loader-carry_height_m = Height at which it carries, over the ground under the forks
field-Loader-gap_mm = Clear gap to the row's last stick with which the next one is set down
field-Loader-drive_m_per_s = Driving speed
field-Loader-braking_m_per_s2 = How hard it brakes
field-Loader-lift_m_per_s = Raising and lowering speed of the forks
field-Loader-starts_beyond_m = How far beyond the rack's high end the tips of its forks are when the run begins

group-Person = Somebody on the site. Left out, there is an ordinary crew: operator, spotter, technician, rigger, and a driver if there is a loader. An empty list, [], is nobody.
field-Person-duty = What they are there for
field-Person-x_m = Where they begin: from the line's centre, away from the rack
field-Person-z_m = Where they begin: from the middle of the rails, towards the machine
field-Person-starts_s = When they set off along their path
field-Person-walking_m_per_s = Walking speed
field-Person-reaction_s = From seeing or hearing to acting
field-Person-looks = Looks for moving pipe while walking, and stops for it
field-Person-radio = Carries a radio

group-Waypoint = A point of somebody's way, in order.
field-Waypoint-x_m = From the line's centre, away from the rack
field-Waypoint-z_m = From the middle of the rails, towards the machine
field-Waypoint-stays_s = How long they stay there

group-Zone = The exclusion zone.

group-Cone = The cones in order around the zone. Left out, they stand in a rectangle around the line. An empty list, [], is no zone.
field-Cone-x_m = From the line's centre, away from the rack
field-Cone-z_m = From the middle of the rails, towards the machine

group-Ground = The ground under the line, as one plane.
field-Ground-cross_fall_deg = Fall across the line, away from the rack
field-Ground-along_fall_deg = Fall along the line, towards the machine
field-Ground-friction = Friction of pipe on the ground
field-Ground-rolling_lever_arm_mm = Lever arm of rolling resistance on the ground: the greater, the sooner a stick stops
field-Ground-subgrade_mn_per_m3 = How firm the ground is under feet and pads: pressure for each metre that they sink (modulus of subgrade reaction)

group-Weather = The weather during the run.
field-Weather-temperature_c = Temperature of the air
field-Weather-wind_m_per_s = Wind speed
field-Weather-wind_towards_deg = Where the wind blows to: 0 is away from the rack, 90 towards the machine
field-Weather-drag_coefficient = Drag coefficient of a stick across the wind

group-Contact = Assumptions on contact. Little of this is published for polyethylene pipe on a rack.
field-Contact-friction_dry = Pipe on dry steel
field-Contact-friction_wet = Pipe on wet steel
field-Contact-friction_frosted = Pipe on frosted steel
field-Contact-friction_glazed = Pipe on steel under glaze ice
field-Contact-friction_pipe_on_pipe = Pipe on pipe
field-Contact-friction_rubber_dry = Pipe on dry rubber, as the cradles' rollers have it
field-Contact-friction_rubber_wet = Pipe on wet rubber
field-Contact-friction_rubber_frosted = Pipe on frosted rubber
field-Contact-friction_rubber_glazed = Pipe on rubber under glaze ice
field-Contact-restitution = Rebound: speed after a blow over speed before it; 0 is the cautious case for a stop
field-Contact-rolling_lever_arm_mm = Lever arm of rolling resistance on the rails: the greater, the harder it rolls

group-Faults = What is wrong with the line. Nothing, unless it is set here.
field-Faults-told = The trainee is told of them before the run; false leaves them to be found
field-Faults-roller_seized = The far cradle's barrels are seized: they slide under a stick that advances
field-Faults-radio_dead = The spotter's radio is dead
field-Faults-power_fails_s = When the power fails: every motion stops as in an emergency stop

group-RailFault = What is wrong with the rack and the escapement at one rail.
field-RailFault-gate_late_s = How long after its command the gate pin, or the wheel, begins to move
field-RailFault-gate_missing = The gate pin is not fitted
field-RailFault-separator_missing = The separator pin is not fitted
field-RailFault-gate_stuck = The gate pin sticks where it stands
field-RailFault-chock_missing = The row chock is missing
field-RailFault-inclinometer_error_deg = How much more the inclinometer shows than the rail has

group-MotionFault = What is wrong with a motion up and down.
field-MotionFault-slowness = How many times its rated time it takes
field-MotionFault-crossed = The hoses are crossed: it moves against its arrow
field-MotionFault-coupler = How far the quick coupler is home: half, the motion is slow; off, it is dead
field-MotionFault-sticks_s = Dirt in the valve: it starts and stops this long after its button
field-MotionFault-air_mm = Air in the hose: it starts late, and gives way by so much at its greatest force
field-MotionFault-creep_mm_per_s = The cylinder leaks: it sinks at this speed under load

group-LevelFault = What is wrong with a motion that no load moves while it is held.
field-LevelFault-slowness = How many times its rated time it takes
field-LevelFault-crossed = The hoses are crossed: it moves against its arrow
field-LevelFault-coupler = How far the quick coupler is home: half, the motion is slow; off, it is dead
field-LevelFault-sticks_s = Dirt in the valve: it starts and stops this long after its button

group-RollerFault = What is wrong with the rollers that advance the stick.
field-RollerFault-slowness = How many times its rated time it takes
field-RollerFault-crossed = The hoses are crossed: it moves against its arrow
field-RollerFault-coupler = How far the quick coupler is home: half, the motion is slow; off, it is dead
field-RollerFault-sticks_s = Dirt in the valve: it starts and stops this long after its button
field-RollerFault-creep_mm_per_s = The motor leaks: pulled along the line, the held rollers give way at this speed

## What a field that is left out follows from.
follows-Pipe-density_kg_m3 = 955 for Ips, 965 for Metric
follows-Rack-rail_spacing_m = 0.44 of the stick's length, and at least 1.5 m
follows-Rack-length_m = room for the row and 1.5 diameters more
follows-Escapement-stroke_time_s = 0.6 for pins, 3 for a wheel
follows-Cradles-spacing_m = the stick's length over 1.8
follows-Machine-near_cradle_to_jaws_m = 0.222 of the stick's length, plus 0.4 m to lower the stick in, plus half_length_m
follows-Machine-half_length_m = 0.9 m plus half the pipe's diameter
follows-Machine-centreline_m = where a seated stick comes to after 0.35 m of lift
follows-Loader-fork_length_m = the pipe's outside diameter
follows-Person-radio = true, and false for a Visitor
follows-Faults-power_fails_s = never

## Why a value outside the usual band is worth a warning.
usual-ovality = more than 5 is seldom accepted
usual-pitch = common practice is 4 to 6, and never above 10
usual-friction = outside what is usually assumed for this pair
usual-density = black polyethylene pipe is 945 to 970
usual-plumb = a column is set plumb
usual-walking = people walk at 0.8 to 2 m/s
usual-reaction = people take 0.5 to 2.5 s
usual-subgrade = soft clay has about 10, dense gravel about 100
usual-drag = a cylinder across the wind has 0.2 to 1.2

## How the list of fields is laid out.
fields-required = required
fields-default = default { $value }
fields-follows = default: { $rule }
fields-warns = warns outside { $min } to { $max }
