package plot

// Kind is one kind of drawing of a build.
type Kind struct {
	Name, Meaning string
	Draw          func(s Subject, strict bool) (*Figure, error) // strict counts what is undecided as a failure
}

// Kinds are all kinds of drawings of a build, in the order of help.
func Kinds() []Kind {
	plain := func(draw func(Subject) (*Figure, error)) func(Subject, bool) (*Figure, error) {
		return func(s Subject, _ bool) (*Figure, error) { return draw(s) }
	}
	return []Kind{
		{"thrust", "thrust against speed at full, nominal and low charge, the load of the flat and of the target grade, what limits the thrust where, and from which thrust on the wheels slip or the front axle lifts", plain(Thrust)},
		{"climb", "the steepest grade against speed", plain(Climb)},
		{"heat", "temperature of a motor's winding and of the rest of it over the length of the hill, with the limit and how far it may be off; it needs target.climb_length_m", plain(Heat)},
		{"launch", "speed against time from standstill", plain(Launch)},
		{"stop", "speed against distance of a stop by the motors alone at full, 90 % and half charge, and what limits the braking", plain(Stop)},
		{"cruise", "energy per distance and range against cruise speed", plain(Cruise)},
		{"route", "the ride over the brief's route: its height with the stops, the wanted speed and the ridden one, the charge that is left, and the winding's temperature with its limit and how far it may be off; it needs ride.route", plain(Route)},
		{"stops", "energy per distance and range at the cruise speed against the number of stops", plain(Stops)},
		{"sensitivity", "what 5 % less or more of each input does to the top speed, to the margin on the climb and to the range, as far as they are asked for", plain(Sensitivity)},
		{"layout", "wheel, drive and motor to scale from the side, and from behind where the room on the hanger is asked for, with what is left above the ground and between the wheels", plain(Layout)},
		{"teeth", "the reduction by the teeth of both pulleys, and which of them are feasible", Teeth},
	}
}

// KindNamed is the kind of that name; ok is false if there is none.
func KindNamed(name string) (k Kind, ok bool) {
	for _, k := range Kinds() {
		if k.Name == name {
			return k, true
		}
	}
	return Kind{}, false
}
