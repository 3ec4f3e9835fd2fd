package drive

// Stance is how a rider stands on a board and by how much that may change. The
// weight on an axle is given as a share of the whole.
type Stance struct {
	RearShare float64 // on the rear axle at rest
	Lean      float64 // that the rider moves to either axle
	AxleMin   float64 // that each axle keeps
	Height    float64 // of the centre of mass above the ground, in wheelbases; above 0
}

// Hold is what the wheels of driven axles hold on the road, as shares of the
// weight that presses on it, m g cos θ. The forces are along the road.
type Hold struct {
	Drive float64 // the most thrust, at least 0
	By    Limit   // what holds the thrust: Grip, or Lift where the front axle would lose its weight
	Brake float64 // the most braking by the motors, at least 0
}

// Hold returns what the driven wheels hold with a number of motors: one drives
// one rear wheel, two the rear axle, four both axles. The rider leans to where
// that serves best. friction is that of the tyres, crr the rolling resistance.
//
// With a share a of the weight on the rear axle while the board stands still, and
// j the height of the centre of mass in wheelbases, a thrust of F puts a m g cos
// θ + j (F − Crr m g cos θ) on it: the traction acts at the height of that
// centre, and so does the drag (Wong, Theory of Ground Vehicles, ch. 3). Per m g
// cos θ the rear wheels slip at
//
//	κ_s(a) = μ q (a − Crr j)/(1 − μ q j)
//
// with q = 1, or ½ where one of the two is driven, and the front axle keeps no
// more than its share f at
//
//	κ_p(a) = (1 − a − f)/j + Crr.
//
// The first rises with a and the second falls; they meet at μ q (1 − f). Four
// driven wheels hold the lower of μ and κ_p: those that slip hand their share to
// the others, an assumption. Braking goes the other way about.
func (s Stance) Hold(motors int, friction, crr float64) Hold {
	j := s.Height
	low, high := max(0, s.RearShare-s.Lean), min(1, s.RearShare+s.Lean)
	lift := (1-low-s.AxleMin)/j + crr
	if motors > 2 {
		h := Hold{Drive: max(0, friction), By: Grip, Brake: max(0, min(friction, (high-s.AxleMin)/j-crr))}
		if lift < friction {
			h.Drive, h.By = max(0, lift), Lift
		}
		return h
	}
	slip := friction
	if motors == 1 {
		slip /= 2
	}
	pressed := high - float64(crr*j)
	h := Hold{Drive: float64(slip * (1 - s.AxleMin)), By: Grip, Brake: max(0, slip*pressed/(1+float64(slip*j)))}
	switch best := 1 - s.AxleMin - float64(j*(h.Drive-crr)); {
	case best < low:
		h.Drive, h.By = lift, Lift
	case best <= high:
	case pressed <= 0 || slip*j >= 1:
		h.Drive = 0
	default:
		h.Drive = slip * pressed / (1 - float64(slip*j))
	}
	h.Drive = max(0, h.Drive)
	return h
}
