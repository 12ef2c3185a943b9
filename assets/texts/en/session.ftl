# A run in the window: modes, how it ends, what is kept of it.

store-no-folder = there is no folder to keep runs in; name one in the environment variable { $variable }
settings-put-aside = { $file }: the settings cannot be read: { $error }; the usual ones apply, and the file is kept as { $kept }
settings-unreadable = { $file }: the settings cannot be read: { $error }; the usual ones apply

# What is known of a line before the walk-round.
known-pipe = Pipe
known-pipe-is = { $size }, DR { $ratio }, { $diameter } mm outside
known-stick = One stick
known-stick-is = { $length } m, { $mass } t
known-row = Sticks
known-row-is = { $sticks } on the rack{ $brought ->
    [0] {""}
   *[other] , { $brought } more brought by the loader
}
known-rack = Rack
known-rack-is = rated for { $rated } kN
known-escapement = Escapement
known-escapement-pins = gate pin and separator pin on each rail
known-escapement-wheel = star wheel on each rail
known-hand = Line
known-hand-right = right-handed: looking at the machine, the rack is on the right
known-hand-left = left-handed: looking at the machine, the rack is on the left
known-joint = Joint
known-joint-is = { $time } s in the jaws
known-weather = Weather
known-weather-is = { $temperature } °C, wind { $wind } m/s
