package walk

// Sizes are how much is taken at once. No answer depends on them, only its time
// and memory. A plan begins with the usual sizes; tests make them small.
type Sizes struct {
	Lane, LaneLeast           int // pairs: see laneSize
	Lanes                     int // of a class: see mostLanes
	Block                     int // pairs: see blockSize
	CoreLeast                 int // pairs: see coreLeast
	Piece                     int // pairs: see pieceSize
	StretchPairs, StretchFits int // see stretchPairs
	Queue, HeldPairs          int // of BestFirst: see queueSize
}

// usualSizes are those that a plan begins with.
func usualSizes() Sizes {
	return Sizes{
		Lane: laneSize, LaneLeast: laneLeast, Lanes: mostLanes, Block: blockSize, CoreLeast: coreLeast, Piece: pieceSize, StretchPairs: stretchPairs, StretchFits: stretchFits, Queue: queueSize, HeldPairs: heldPairs,
	}
}

// laneSize is how many pairs a lane has at most. More pairs make a lane's
// corners differ more, and leave more pairs at the rims of windows; fewer make
// more lanes to ask. laneLeast is how many pairs are worth a window.
const (
	laneSize  = 128
	laneLeast = 12
)

// mostLanes is how many lanes a class of motors has before its lanes grow beyond their
// size: a catalog of tables with ranges has many pairs that differ in gearing alone, and
// every lane is asked of by every group. blockSize is how many pairs of such a lane are
// compared to what is left of a sum together.
const (
	mostLanes = 32
	blockSize = 128
)

// coreLeast is how many pairs of a group are tested one by one before a core is found:
// about as many as take the time that this takes.
const coreLeast = 12

// pieceSize is how many pairs of a segment, one beside the other in gearing, are shown to
// a visitor at once to be passed over, where nothing is counted.
const pieceSize = 32

// What is remembered of a stretch of the drives while it is searched: a few
// bytes for each pair with a wheel, some hundred for each pair that a class of
// motors fits, and four for each drive with a motor and a number of motors.
const (
	stretchPairs = 1 << 18
	stretchFits  = 1 << 23
)

// How much is held at once: groups in the queue, at 32 bytes each, and pairs in
// the lanes of the classes that they are of, at some fifty.
const (
	queueSize = 1 << 20
	heldPairs = 1 << 20
)

// The most zones that the positions of cuts are kept for; a plan with more
// windows tests pairs one by one.
const maxZones = 8
