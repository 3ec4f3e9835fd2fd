package leaf

// Document is what a page says, ready to be written: texts are in the words and
// units that are shown.
type Document struct {
	Title      string
	Made       string // the date, as 2025-11-25
	Command    string // that made it
	Origin     string // how it came to be, where not by the command
	Invented   string // of parts of the demo, "" where there are none
	Incomplete string // what is missing of an interrupted search, "" for none

	Combinations string
	Feasible     string
	Undecided    string   // feasible builds with an open check, "" for none
	Apart        string   // of what choices the builds are the best, "" where all are listed
	Asked        []string // the brief in sentences
	Keys         []Key    // the brief, key by key

	Weights []Weight
	Columns []Column
	Builds  []Build
	Cards   []*Card
	Nearest *Card // where nothing is feasible; may be nil
	Gives   *Node // what to give way on then; nil where that is not known
	Field   *Node // where the builds stand among all; nil where that is not known
	Gates   []Gate
	Wishes  []Wish // in the order of the brief; none where what they cost is not known

	Assumptions []string
	Cautions    []string
	Next        []string // commands to type

	Data Data
}

// Key is one key of the brief with its value.
type Key struct{ Name, Value string }

// Weight is the weight of one criterion of the score.
type Weight struct {
	Name    string
	Meaning string
	Value   float64
	Most    float64 // of its slider
}

// Column is a column of the table of builds.
type Column struct {
	Title string
	Unit  string
	About string // what it shows, for the line below the table
	Key   string // by which the page sorts
	// Down is true where more is better, and sorting begins with the most.
	Down bool
	Wide bool // left out where the page is narrow
}

// Build is a row of the table.
type Build struct {
	Number  int
	Score   string
	Cells   []Cell
	Chain   []Part // from battery to wheel
	Tight   string // the check with the least margin
	Sign    string
	Marks   []Mark   // of all margins, least first
	Limits  []string // each check with a number: its value and its limit, in words
	Watch   []string // checks to watch: thin, undecided or demoted, in words
	HasCard bool
	Alike   string // how many more builds are like it, "" for none
	AlikeBy string // the command that lists those, "" for none
	Find    string // what a filter looks in
}

// Mark is a margin as a mark on the strip of a row, whose scale is that of Bar.
type Mark struct {
	X     string
	First bool // the least
}

// Cell is a cell of a build's row.
type Cell struct {
	Text string
	Sign string
	Sort string // a number for sorting, "" where there is none
	Wide bool
}

// Part is one part of a build in its chain.
type Part struct {
	Slot, ID, Name string // the name is the id where a part has none, and ID is "" then
	Short          string // as much of the name as tells it from others of its kind
	Apart          string // what tells it from parts of the same name, "" for none
	Before         string // how many there are, "" for one
	Behind         string // the reduction of a gear drive
}

// Item is a line of a shopping list.
type Item struct {
	For    string
	Pieces string
	ID     string // "" for what the catalog does not have
	Name   string
	Note   string
	Link   string
	Buy    string // how it is sold, where that is not by the piece, or that it is owned
	Price  string // of all
	From   string // from when and where the price is

	Make, Figures string   // how it is to be made, and by what figures; "": it is bought
	Beware        []string // in making it

	Invented bool // a part of the demo among others
}

// Card is all that is shown of one build.
type Card struct {
	Number  int    // 0: of no ranking
	Title   string // "" for its number
	Score   string
	Chain   []Part
	Differs string   // from the first build, "" on the first
	Key     []Figure // those that decide
	Groups  []Group  // all figures
	Fits    []Check  // checks without a number
	Margins []Margin
	Scores  []Score

	Currency string
	Invented bool   // parts of the demo are among these, and in the sums
	Items    []Item // the parts of the build itself
	Price    string // of them
	Around   []Item // what must be bought around them
	Total    string // of both
	// AtLeast and TotalAtLeast: a price is missing in the one and the other.
	AtLeast, TotalAtLeast bool

	Meanings []Meaning // of the checks
	Assumed  []string  // of the build
	Cautions []string  // of the build
	Care     []string  // of building and riding it
	Drawings []Drawing // shown
	More     []Drawing // shown on demand
	File     string    // the build as a build file
}

// Figure is a figure of a card.
type Figure struct {
	Name, Value, Unit, Note string
}

// Group is figures under one title.
type Group struct {
	Title   string
	Figures []Explained
}

// Explained is a figure with where it comes from.
type Explained struct {
	Figure
	Key     string // its name in data
	Known   bool
	Formula string
	Numbers string // the formula with the build's numbers; what is missing where there is no value
	Source  string
}

// Meaning is when a check passes.
type Meaning struct{ Subject, Text string }

// Check is a check without a number, such as whether a bore fits.
type Check struct {
	Name, Verdict, About string
	Sign                 string
}

// Margin is a check with a number: how far the value is from its limit.
type Margin struct {
	Name, About, Value, Limit, Unit, Margin string
	Sign                                    string
	Verdict                                 string
	Bar                                     Bar
}

// Score is what one criterion gives.
type Score struct {
	Name, Score, Weight, Meaning string
	Width                        string // of a bar out of 100
}

// Drawing is a drawing in the page.
type Drawing struct {
	Title, Summary string
	SVG            *Node // Drawn by package plot, which escapes what it writes
	Wide           bool
	Scrolls        bool // on a narrow screen, rather than shrink
}

// Gate is one check with how many it rejected.
type Gate struct {
	Check, About string
	Rejected     string
	Left         string // feasible so far
	Width        string // of the bar of what is left, out of 100, on a logarithmic scale
	None         bool   // it rejected none
}

// Data is what the page's script works with.
type Data struct {
	Command string       `json:"command"`
	Slots   []string     `json:"slots"`
	Figures []DataFigure `json:"figures"`
	Weights []DataWeight `json:"weights"`
	Builds  []DataBuild  `json:"builds"`
	Charts  []Chart      `json:"charts,omitempty"` // of all builds; none where an engine is asked for them
}

// DataFigure is a figure for builds side by side.
type DataFigure struct {
	Key    string `json:"key"` // its name in data
	Name   string `json:"name"`
	Unit   string `json:"unit"`
	Better int    `json:"better"` // 1: more is, -1: less is
}

// DataWeight is a criterion with the weight that the brief gives it.
type DataWeight struct {
	Name  string  `json:"name"`
	Value float64 `json:"value"`
}

// DataBuild is a build as the script knows it.
type DataBuild struct {
	Number int        `json:"number"`
	Scores []float64  `json:"scores"` // of the criteria, in [0, 1]
	Price  *float64   `json:"price"`  // nil: not known
	Tie    int        `json:"tie"`    // its place in the order of ids
	Parts  []string   `json:"parts"`
	Values []*float64 `json:"values"` // of the figures; nil: a word, or not known
	Texts  []string   `json:"texts"`
}
