package search

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
	"gearsearch/search/internal/walk"
)

// slotParts lists the ids of a catalog's parts for each slot.
func slotParts(c *catalog.Catalog) map[constraints.Slot][]string {
	out := map[constraints.Slot][]string{
		constraints.SlotBattery:    slices.Collect(catalog.IDs(c.Batteries)),
		constraints.SlotController: slices.Collect(catalog.IDs(c.Controllers)),
		constraints.SlotMotor:      slices.Collect(catalog.IDs(c.Motors)),
		constraints.SlotGearDrive:  slices.Collect(catalog.IDs(c.GearDrives)),
		constraints.SlotMount:      slices.Collect(catalog.IDs(c.Mounts)),
		constraints.SlotBelt:       slices.Concat(slices.Collect(catalog.IDs(c.Belts)), slices.Collect(catalog.IDs(c.Chains))),
		constraints.SlotWheel:      slices.Collect(catalog.IDs(c.Wheels)),
	}
	for _, pulley := range slices.Concat(c.Pulleys, c.Sprockets) {
		slot := constraints.SlotWheelPulley
		if pulley.Side == catalog.MotorSide {
			slot = constraints.SlotMotorPulley
		}
		out[slot] = append(out[slot], pulley.ID)
	}
	return out
}

// fileOf makes a build file of ids.
func fileOf(t *testing.T, ids map[constraints.Slot]string, motors int) *constraints.BuildFile {
	t.Helper()
	var text strings.Builder
	fmt.Fprintf(&text, "[build]\nmotors = %d\n", motors)
	for slot, id := range ids {
		if id != "" {
			fmt.Fprintf(&text, "%s = %q\n", slot, id)
		}
	}
	f, err := constraints.ReadBuild(field.Source{Name: "build.toml", Data: []byte(text.String())})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// swapCase is a random brief with keep and avoid, a build of any parts of the
// catalog, and slots to free.
type swapCase struct {
	catalog *catalog.Catalog
	brief   *constraints.Brief
	parts   map[constraints.Slot][]string
	ids     map[constraints.Slot]string
	motors  int
	freed   []constraints.Slot
	counted bool // the number of motors is freed too
}

// free is what is freed.
func (c *swapCase) free() constraints.Freed {
	return constraints.Freed{Slots: c.freed, Motors: c.counted}
}

// counts are the numbers of motors to try.
func (c *swapCase) counts(file *constraints.BuildFile) []int {
	if !c.counted {
		return []int{c.motors}
	}
	var out []int
	for _, n := range file.With(c.brief).Board.Motors {
		out = append(out, int(n))
	}
	if len(out) > 1 {
		return out
	}
	return []int{1, 2, 4}
}

// wide is the brief with all numbers of motors to try.
func (c *swapCase) wide(file *constraints.BuildFile) *constraints.Brief {
	brief := file.With(c.brief)
	if c.counted {
		brief.Board.Motors = nil
		for _, n := range c.counts(file) {
			brief.Board.Motors = append(brief.Board.Motors, float64(n))
		}
	}
	return brief
}

func newSwapCase(t *testing.T, seed uint64) (c swapCase, ok bool) {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 21))
	p, ok := randomProblem(t, seed, randcat.Small())
	if !ok {
		return c, false
	}
	c = swapCase{catalog: p.Catalog, brief: p.Brief.Clone(), parts: slotParts(p.Catalog), ids: map[constraints.Slot]string{}}
	for _, slot := range constraints.Slots() {
		ids := c.parts[slot]
		if len(ids) > 1 && r.IntN(3) == 0 {
			section := []string{"keep", "avoid"}[r.IntN(2)]
			if err := c.brief.AddParts(section, slot.String(), []string{ids[r.IntN(len(ids))]}, "test"); err != nil {
				t.Fatal(err)
			}
		}
	}
	pick := func(slot constraints.Slot) {
		if ids := c.parts[slot]; len(ids) > 0 {
			c.ids[slot] = ids[r.IntN(len(ids))]
		}
	}
	for _, slot := range []constraints.Slot{constraints.SlotBattery, constraints.SlotController, constraints.SlotMotor, constraints.SlotWheel} {
		pick(slot)
	}
	belted := len(c.parts[constraints.SlotMotorPulley]) > 0 && len(c.parts[constraints.SlotWheelPulley]) > 0 && r.IntN(3) > 0
	if belted {
		pick(constraints.SlotMotorPulley)
		pick(constraints.SlotWheelPulley)
		if r.IntN(4) > 0 {
			pick(constraints.SlotMount)
		}
		if r.IntN(2) > 0 {
			pick(constraints.SlotBelt)
		}
	} else {
		pick(constraints.SlotGearDrive)
	}
	c.motors = []int{1, 2, 2, 4}[r.IntN(4)]
	choices := [][]constraints.Slot{
		{constraints.SlotWheel},
		{constraints.SlotMotor},
		{constraints.SlotBattery, constraints.SlotController},
		{constraints.SlotWheel, constraints.SlotMotor},
		constraints.DriveSlots(),
	}
	if belted {
		choices = append(choices, []constraints.Slot{constraints.SlotMotorPulley}, []constraints.Slot{constraints.SlotWheelPulley, constraints.SlotWheel},
			[]constraints.Slot{constraints.SlotMount}, []constraints.Slot{constraints.SlotBelt}, []constraints.Slot{constraints.SlotBelt, constraints.SlotWheel},
			[]constraints.Slot{constraints.SlotMotorPulley, constraints.SlotWheelPulley, constraints.SlotMount})
	} else {
		choices = append(choices, []constraints.Slot{constraints.SlotGearDrive}, []constraints.Slot{constraints.SlotGearDrive, constraints.SlotMotor})
	}
	c.freed = choices[r.IntN(len(choices))]
	c.counted = r.IntN(4) == 0
	return c, true
}

// inPlay lists what keep and avoid leave of a slot's parts.
func (c *swapCase) inPlay(slot constraints.Slot) []string {
	var out []string
	for _, id := range c.parts[slot] {
		keep, avoid := c.brief.Keep[slot], c.brief.Avoid[slot]
		if (len(keep) == 0 || slices.Contains(keep, id)) && !slices.Contains(avoid, id) {
			out = append(out, id)
		}
	}
	return out
}

// fills lists every way to fill the freed slots, plainly: part by part of what
// is in play, and of the other slots the build's own. A belt is listed where it
// is held or freed alone; else it is left to be chosen.
func (c *swapCase) fills() []map[constraints.Slot]string {
	free := func(slot constraints.Slot) bool { return slices.Contains(c.freed, slot) }
	drives := c.driveFills(free)
	var out []map[constraints.Slot]string
	for _, battery := range c.fill(constraints.SlotBattery, free) {
		for _, controller := range c.fill(constraints.SlotController, free) {
			for _, motor := range c.fill(constraints.SlotMotor, free) {
				for _, wheel := range c.fill(constraints.SlotWheel, free) {
					for _, d := range drives {
						ids := map[constraints.Slot]string{
							constraints.SlotBattery: battery, constraints.SlotController: controller,
							constraints.SlotMotor: motor, constraints.SlotWheel: wheel,
						}
						for slot, id := range d {
							ids[slot] = id
						}
						out = append(out, ids)
					}
				}
			}
		}
	}
	return out
}

func (c *swapCase) fill(slot constraints.Slot, free func(constraints.Slot) bool) []string {
	if free(slot) {
		return c.inPlay(slot)
	}
	return []string{c.ids[slot]}
}

// turned reports whether a pulley or a mount is freed, but not the kind of
// drive.
func (c *swapCase) turned() bool {
	return !slices.Contains(c.freed, constraints.SlotGearDrive) && slices.ContainsFunc(c.freed, func(s constraints.Slot) bool {
		return s == constraints.SlotMotorPulley || s == constraints.SlotWheelPulley || s == constraints.SlotMount
	})
}

func (c *swapCase) driveFills(free func(constraints.Slot) bool) []map[constraints.Slot]string {
	var out []map[constraints.Slot]string
	whole := free(constraints.SlotGearDrive) && free(constraints.SlotMotorPulley)
	if whole || c.ids[constraints.SlotGearDrive] != "" {
		for _, gear := range c.fill(constraints.SlotGearDrive, free) {
			out = append(out, map[constraints.Slot]string{constraints.SlotGearDrive: gear})
		}
	}
	if !whole && c.ids[constraints.SlotGearDrive] != "" {
		return out
	}
	mounts := c.fill(constraints.SlotMount, free)
	if len(mounts) == 0 {
		mounts = []string{""}
	}
	belts := []string{""} // to be chosen
	switch {
	case whole, c.turned():
	case free(constraints.SlotBelt):
		belts = c.inPlay(constraints.SlotBelt)
	default:
		belts = []string{c.ids[constraints.SlotBelt]}
	}
	for _, small := range c.fill(constraints.SlotMotorPulley, free) {
		for _, large := range c.fill(constraints.SlotWheelPulley, free) {
			for _, mount := range mounts {
				for _, belt := range belts {
					out = append(out, map[constraints.Slot]string{
						constraints.SlotMotorPulley: small, constraints.SlotWheelPulley: large,
						constraints.SlotMount: mount, constraints.SlotBelt: belt,
					})
				}
			}
		}
	}
	return out
}

// TestSwapsAreAllWays: the swaps, and those that break something, are what one
// finds by reading each way to fill the freed slots as a build file of its own.
func TestSwapsAreAllWays(t *testing.T) {
	t.Parallel()
	n := uint64(1000)
	if testing.Short() {
		n = 150
	}
	tested, feasible, broken := map[string]int{}, 0, 0
	misfit := map[string]int{}
	for seed := range n {
		c, ok := newSwapCase(t, seed)
		if !ok {
			continue
		}
		file := fileOf(t, c.ids, c.motors)
		p, base, err := constraints.Free(c.catalog, c.brief, file, c.free())
		all, allErr := constraints.NewProblem(c.catalog, c.wide(file))
		if (err == nil) != (allErr == nil) {
			t.Fatalf("seed %d: Free says %v, the brief %v", seed, err, allErr)
		}
		if err != nil || p.Combinations() > 3000 {
			continue
		}
		tested[fmt.Sprint(c.freed)]++
		all.PriceReference, all.MassReference = base.Problem.PriceReference, base.Problem.MassReference

		// The base's own belt may be chosen, whatever the brief avoids.
		belt := base.ID(constraints.SlotBelt)
		if c.turned() && belt != "" && !slices.Contains(c.inPlay(constraints.SlotBelt), belt) {
			all = withBelt(t, c, file, belt)
		}
		var wantGood, wantBad []string
		type ranked struct {
			score, price int64
			name         string
		}
		var good []ranked
		missed := failing(base)
		for _, fill := range c.eachFill(file) {
			b, err := all.Find(fill)
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			if same(b, base) {
				continue
			}
			breaks := failing(b)
			if len(breaks) > 0 {
				wantBad = append(wantBad, fmt.Sprint(nameOf(b), breaks, less(breaks, missed), less(missed, breaks), figuresOf(b)))
				continue
			}
			score := ScoreBuild(b).Score
			good = append(good, ranked{micro(score), micro(b.Price().Total()), fmt.Sprintf("%s%s %.6f", nameOf(b), figuresOf(b), score)})
		}
		slices.SortStableFunc(good, func(a, b ranked) int {
			return cmp.Or(cmp.Compare(b.score, a.score), cmp.Compare(a.price, b.price))
		})
		for _, g := range good {
			wantGood = append(wantGood, g.name)
		}
		swaps, r, err := Swaps(t.Context(), p, base, Options{Workers: 1 + int(seed%2)})
		if err != nil || !r.Complete {
			t.Fatal(err)
		}
		var gotGood, gotBad []string
		for i, s := range swaps {
			gotGood = append(gotGood, fmt.Sprintf("%s%s %.6f", nameOf(s.Build), figuresOf(s.Build), s.Score))
			if !slices.Equal(namesOf(s.Cures), missed) || len(s.Adds(base, false)) > 0 {
				t.Errorf("seed %d: a swap that passes cures %v of %v", seed, namesOf(s.Cures), missed)
			}
			if s.Rank != i+1 || len(s.Breaks) > 0 {
				t.Errorf("seed %d: swap %d has rank %d and breaks %v", seed, i, s.Rank, s.Breaks)
			}
		}
		// Among equals the order is that of ids, which the search's own tests hold.
		tied := func(list []string) []string { slices.Sort(list); return list }
		if d := gocmp.Diff(scoresOf(wantGood), scoresOf(gotGood)); d != "" {
			t.Fatalf("seed %d, %v freed: order differs (-want +got):\n%s", seed, c.freed, d)
		}
		if d := gocmp.Diff(tied(wantGood), tied(slices.Clone(gotGood))); d != "" {
			t.Fatalf("seed %d, %v freed: swaps differ (-want +got):\n%s", seed, c.freed, d)
		}
		broke, err := BrokenSwaps(t.Context(), p, base, Options{})
		if err != nil || broke.Total != len(broke.Swaps) {
			t.Fatalf("seed %d: %+v, %v", seed, broke, err)
		}
		bad := broke.Swaps
		for _, s := range bad {
			gotBad = append(gotBad, fmt.Sprint(nameOf(s.Build), namesOf(s.Breaks), namesOf(s.Adds(base, false)), namesOf(s.Cures), figuresOf(s.Build)))
			if s.Misfit != nil {
				misfit[s.Misfit.Name]++
				c.neverFits(t, seed, s)
			}
		}
		if !slices.IsSortedFunc(bad[:broke.Fitting()], func(a, b Swap) int { return len(a.Breaks) - len(b.Breaks) }) {
			t.Errorf("seed %d: those that break less do not come first", seed)
		}
		if d := gocmp.Diff(tied(wantBad), tied(gotBad)); d != "" {
			t.Fatalf("seed %d, %v freed: broken swaps differ (-want +got):\n%s", seed, c.freed, d)
		}
		some, err := BrokenSwaps(t.Context(), p, base, Options{Top: 2})
		if err != nil || some.Total != len(bad) || len(some.Swaps) != min(2, len(bad)) || len(some.Swaps) > 0 && !same(some.Swaps[0].Build, bad[0].Build) {
			t.Errorf("seed %d: the first 2 of %d that break something are %+v, %v", seed, len(bad), some, err)
		}
		few, _, err := Swaps(t.Context(), p, base, Options{Top: 3})
		if err != nil || len(few) != min(3, len(swaps)) || len(few) > 0 && !same(few[0].Build, swaps[0].Build) {
			t.Errorf("seed %d: the best 3 are %d of %d, %v", seed, len(few), len(swaps), err)
		}
		if got := ScoreBuild(base).Score; math.Abs(got-sheetScore(t, c, file)) > 1e-12 {
			t.Errorf("seed %d: the base scores %v, alone %v", seed, got, sheetScore(t, c, file))
		}
		feasible += len(swaps)
		broken += len(bad)
	}
	t.Logf("%d feasible, %d broken, %v never fit: %v", feasible, broken, misfit, tested)
	if misfit["bore"] == 0 || misfit["hub"] == 0 || misfit["profile"] == 0 {
		t.Errorf("never fit: %v: the test does not test", misfit)
	}
	if !testing.Short() && (len(tested) < 12 || feasible < 40 || broken < 1000) {
		t.Errorf("%d feasible, %d broken: %v: the test does not test", feasible, broken, tested)
	}
}

// eachFill are the files of fills with each number of motors to try.
func (c *swapCase) eachFill(file *constraints.BuildFile) []*constraints.BuildFile {
	var out []*constraints.BuildFile
	for _, ids := range c.fills() {
		for _, n := range c.counts(file) {
			b := constraints.BuildFile{Motors: n}
			for slot, id := range ids {
				b.IDs[slot] = id
			}
			out = append(out, &b)
		}
	}
	return out
}

// neverFits holds a swap that is said never to fit to what that means: with its
// parts in the slots that the check joins, and whatever else a build has and a brief
// asks, the check fails.
func (c *swapCase) neverFits(t *testing.T, seed uint64, s Swap) {
	t.Helper()
	brief := constraints.DefaultBrief()
	brief.Board.Motors = []float64{1, 2, 4}
	p, err := constraints.NewBuildProblem(c.catalog, brief)
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(seed, 5))
	for range 3 {
		file := *s.Build.File()
		file.Motors = []int{1, 2, 4}[r.IntN(3)]
		for _, slot := range constraints.Slots() {
			ids := c.parts[slot]
			joined := slices.Contains(s.Misfit.Joins, slot) || s.Misfit.Name == "belt" && !slot.Always()
			if file.IDs[slot] != "" && !joined {
				file.IDs[slot] = ids[r.IntN(len(ids))]
			}
		}
		b, err := p.Find(&file)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Contains(failing(b), s.Misfit.Name) {
			t.Errorf("seed %d: %s is said never to fit by its %s, and does in %s", seed, nameOf(s.Build), s.Misfit.Name, nameOf(b))
		}
	}
}

// failing names the checks that reject a build.
func failing(b *constraints.Build) []string { return namesOf(b.Rejections(false)) }

// namesOf are those of checks.
func namesOf(list []constraints.Result) []string {
	var out []string
	for _, r := range list {
		out = append(out, r.Name)
	}
	return out
}

// less are the names that others does not have.
func less(list, others []string) []string {
	return slices.DeleteFunc(slices.Clone(list), func(x string) bool { return slices.Contains(others, x) })
}

// figuresOf are all figures of a build.
func figuresOf(b *constraints.Build) string {
	text := ""
	for _, f := range constraints.Figures() {
		if f.Word != nil {
			text += " " + f.Word(b)
		} else {
			text += fmt.Sprintf(" %.9g", f.Value(b))
		}
	}
	return text
}

func scoresOf(names []string) []string {
	var out []string
	for _, name := range names {
		out = append(out, name[strings.LastIndex(name, " "):])
	}
	return out
}

// nameOf is the ids of a build.
func nameOf(b *constraints.Build) string {
	var ids []string
	for _, slot := range constraints.Slots() {
		ids = append(ids, b.ID(slot))
	}
	return fmt.Sprint(strings.Join(ids, " "), " ", b.Motors())
}

// withBelt is the problem of the whole brief with one more belt in play.
func withBelt(t *testing.T, c swapCase, file *constraints.BuildFile, belt string) *constraints.Problem {
	t.Helper()
	brief := c.wide(file)
	if len(brief.Keep[constraints.SlotBelt]) > 0 {
		brief.Keep[constraints.SlotBelt] = append(brief.Keep[constraints.SlotBelt], belt)
	}
	brief.Avoid[constraints.SlotBelt] = slices.DeleteFunc(slices.Clone(brief.Avoid[constraints.SlotBelt]), func(id string) bool { return id == belt })
	p, err := constraints.NewProblem(c.catalog, brief)
	if err != nil {
		t.Fatal(err)
	}
	// What prices and masses are scored against is the brief's own.
	own, err := constraints.NewProblem(c.catalog, file.With(c.brief))
	if err != nil {
		t.Fatal(err)
	}
	p.PriceReference, p.MassReference = own.PriceReference, own.MassReference
	return p
}

// sheetScore is what the build of a file scores in a problem of its own.
func sheetScore(t *testing.T, c swapCase, file *constraints.BuildFile) float64 {
	t.Helper()
	p, err := constraints.NewProblem(c.catalog, file.With(c.brief))
	if err != nil {
		t.Fatal(err)
	}
	b, err := p.Find(file)
	if err != nil {
		t.Fatal(err)
	}
	return ScoreBuild(b).Score
}

// TestFreeWhatIsNotThere: a slot that the kind of drive does not have cannot be
// freed alone.
func TestFreeWhatIsNotThere(t *testing.T) {
	p := textProblem(t, belted(oneBuild, "")+"[[gear_drive]]\nid = \"g\"\nratio = 3\n", "")
	belt := map[constraints.Slot]string{
		constraints.SlotBattery: "b", constraints.SlotController: "c", constraints.SlotMotor: "m", constraints.SlotWheel: "w",
		constraints.SlotMotorPulley: "p", constraints.SlotWheelPulley: "q",
	}
	gear := map[constraints.Slot]string{
		constraints.SlotBattery: "b", constraints.SlotController: "c", constraints.SlotMotor: "m", constraints.SlotWheel: "w",
		constraints.SlotGearDrive: "g",
	}
	tests := []struct {
		ids   map[constraints.Slot]string
		freed []constraints.Slot
		want  string // in the error; "": none
		n     int    // combinations
	}{
		{belt, []constraints.Slot{constraints.SlotGearDrive}, "no gear_drive to change", 0},
		{gear, []constraints.Slot{constraints.SlotMotorPulley}, "no motor_pulley to change", 0},
		{gear, []constraints.Slot{constraints.SlotBelt, constraints.SlotWheel}, "no belt to change", 0},
		{belt, constraints.DriveSlots(), "", 2},
		{gear, constraints.DriveSlots(), "", 2},
		{belt, []constraints.Slot{constraints.SlotMount}, "", 1}, // the file names none, and the board can have one
		{belt, nil, "", 1},
	}
	for _, test := range tests {
		q, _, err := constraints.Free(p.Catalog, p.Brief, fileOf(t, test.ids, 2), constraints.Freed{Slots: test.freed})
		switch {
		case test.want == "" && err != nil, test.want != "" && (err == nil || !strings.Contains(err.Error(), test.want)):
			t.Errorf("%v freed: %v, want %q", test.freed, err, test.want)
		case err == nil && q.Combinations() != float64(test.n):
			t.Errorf("%v freed: %v combinations, want %d", test.freed, q.Combinations(), test.n)
		}
	}
}

// TestSwapKeepsTheBeltInHand: a pulley changes with its belt, and the belt of
// the build is among those to choose from though the brief avoids it.
func TestSwapKeepsTheBeltInHand(t *testing.T) {
	text := belted(oneBuild, "") + `[[belt]]
id = "narrow"
profile = "htd-5m"
teeth = 60
width_mm = 9
[[pulley]]
id = "p17"
side = "motor"
profile = "htd-5m"
teeth = 17
bore_mm = 8
`
	p := textProblem(t, text, "[avoid]\nbelt = [\"v\"]\n")
	ids := map[constraints.Slot]string{
		constraints.SlotBattery: "b", constraints.SlotController: "c", constraints.SlotMotor: "m", constraints.SlotWheel: "w",
		constraints.SlotMotorPulley: "p", constraints.SlotWheelPulley: "q", constraints.SlotMount: "o", constraints.SlotBelt: "v",
	}
	for in, want := range map[string]string{"v": "v", "narrow": "narrow"} {
		ids[constraints.SlotBelt] = in
		q, base, err := constraints.Free(p.Catalog, p.Brief, fileOf(t, ids, 2), constraints.Freed{Slots: []constraints.Slot{constraints.SlotMotorPulley}})
		if err != nil {
			t.Fatal(err)
		}
		swaps, _, err := Swaps(t.Context(), q, base, Options{})
		if err != nil || len(swaps) != 1 || swaps[0].Build.ID(constraints.SlotBelt) != want {
			t.Errorf("with belt %s in hand: %d swaps, %v", in, len(swaps), err)
		}
	}
}

// TestSwapScoresAsTheSheet: a ceiling that only other controllers have scores
// headroom in a swap of wheels, too.
func TestSwapScoresAsTheSheet(t *testing.T) {
	text := oneBuild + `[[controller]]
id = "ceiling"
erpm_ceiling = 60000
[[wheel]]
id = "x"
diameter_mm = 110
hub = "h"
`
	p := textProblem(t, text, "")
	base := fileOf(t, map[constraints.Slot]string{
		constraints.SlotBattery: "b", constraints.SlotController: "c", constraints.SlotMotor: "m", constraints.SlotWheel: "w", constraints.SlotGearDrive: "g",
	}, 2)
	q, b, err := constraints.Free(p.Catalog, p.Brief, base, constraints.Freed{Slots: []constraints.Slot{constraints.SlotWheel}})
	if err != nil {
		t.Fatal(err)
	}
	swaps, _, err := Swaps(t.Context(), q, b, Options{})
	if err != nil || len(swaps) != 1 {
		t.Fatalf("%d swaps, %v", len(swaps), err)
	}
	alone, err := p.Find(swaps[0].Build.File())
	if err != nil {
		t.Fatal(err)
	}
	if got, want := swaps[0].Score, ScoreBuild(alone).Score; got != want {
		t.Errorf("a swap scores %v, its sheet %v", got, want)
	}
	if d := gocmp.Diff(len(ScoreBuild(b).Scores), len(swaps[0].Scores)); d != "" {
		t.Errorf("the base and its swap have different criteria:\n%s", d)
	}
}

// TestChange: what to buy, what to leave and the price to pay, worked out by
// hand.
func TestChange(t *testing.T) {
	const parts = `schema = 1
[[motor]]
id = "m"
kv = 100
price = 50
[[motor]]
id = "m2"
kv = 120
price = 60
owned = true
[[controller]]
id = "single"
price = 40
sold_in = 2
[[controller]]
id = "dual"
channels = 2
price = 90
[[battery]]
id = "b"
series = 10
nominal_v = 36
full_v = 42
price = 200
[[battery]]
id = "b2"
series = 10
nominal_v = 36
full_v = 42
[[gear_drive]]
id = "g"
ratio = 3
price = 80
sold_in = 3
[[wheel]]
id = "w"
diameter_mm = 100
price = 30
[[wheel]]
id = "w2"
diameter_mm = 100
price = 7
sold_in = 1
`
	nan := math.NaN()
	build := func(t *testing.T, p *constraints.Problem, motors int, battery, controller, motor, wheel string) *constraints.Build {
		t.Helper()
		b, err := p.Find(fileOf(t, map[constraints.Slot]string{
			constraints.SlotBattery: battery, constraints.SlotController: controller, constraints.SlotMotor: motor,
			constraints.SlotWheel: wheel, constraints.SlotGearDrive: "g",
		}, motors))
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	p := textProblem(t, parts, "[board]\nmotors = [1, 2, 4]\n")
	tests := []struct {
		name       string
		from, to   *constraints.Build
		buy, leave string
		price      float64
		why        string
	}{
		{
			name: "nothing", from: build(t, p, 2, "b", "dual", "m", "w"), to: build(t, p, 2, "b", "dual", "m", "w"), price: 0,
			why: "what is there costs nothing",
		},
		{
			name: "wheels", from: build(t, p, 2, "b", "dual", "m", "w"), to: build(t, p, 2, "b", "dual", "m", "w2"),
			buy: "4 w2", leave: "4 w", price: 28, why: "four wheels sold one by one",
		},
		{
			name: "dual for two singles", from: build(t, p, 2, "b", "single", "m", "w"), to: build(t, p, 2, "b", "dual", "m", "w"),
			buy: "1 dual", leave: "2 single", price: 90, why: "one controller of two channels",
		},
		{
			name: "owned", from: build(t, p, 2, "b", "dual", "m", "w"), to: build(t, p, 2, "b", "dual", "m2", "w"),
			buy: "2 m2", leave: "2 m", price: 0, why: "owned motors cost nothing",
		},
		{
			name: "unknown", from: build(t, p, 2, "b", "dual", "m", "w"), to: build(t, p, 2, "b2", "dual", "m", "w"),
			buy: "1 b2", leave: "1 b", price: nan, why: "nobody knows the price of that pack",
		},
		{
			name: "a second motor", from: build(t, p, 1, "b", "single", "m", "w"), to: build(t, p, 2, "b", "single", "m", "w"),
			buy: "1 single, 1 m, 1 g", price: 50, why: "the lots of two controllers and of three gear drives are bought already",
		},
		{
			name: "two more motors", from: build(t, p, 2, "b", "single", "m", "w"), to: build(t, p, 4, "b", "single", "m", "w"),
			buy: "2 single, 2 m, 2 g", price: 40 + 100 + 80, why: "one lot of controllers, two motors, a second lot of gear drives",
		},
		{
			name: "two fewer motors", from: build(t, p, 4, "b", "dual", "m", "w"), to: build(t, p, 2, "b", "dual", "m", "w"),
			leave: "1 dual, 2 m, 2 g", price: 0, why: "leaving costs nothing",
		},
	}
	list := func(lines []constraints.Line) string {
		var out []string
		for _, l := range lines {
			out = append(out, fmt.Sprintf("%d %s", l.Pieces, l.Part.ID))
		}
		return strings.Join(out, ", ")
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := test.from.ChangeTo(test.to)
			if list(got.Buy) != test.buy || list(got.Leave) != test.leave {
				t.Errorf("%s: buy %q, leave %q, want %q and %q", test.why, list(got.Buy), list(got.Leave), test.buy, test.leave)
			}
			if got.Price != test.price && !(math.IsNaN(got.Price) && math.IsNaN(test.price)) {
				t.Errorf("%s: price %v, want %v", test.why, got.Price, test.price)
			}
		})
	}
}

// TestTooManySwaps: what is too much to look at one by one is refused.
func TestTooManySwaps(t *testing.T) {
	p := marketProblem(t, markets[0], randcat.StreetBrief)
	file := walk.Assemble(p, 0).File()
	freed := []constraints.Slot{constraints.SlotBattery, constraints.SlotMotor, constraints.SlotController, constraints.SlotWheel}
	q, base, err := constraints.Free(p.Catalog, p.Brief, file, constraints.Freed{Slots: append(freed, constraints.DriveSlots()...)})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := BrokenSwaps(t.Context(), q, base, Options{}); err == nil || !strings.Contains(err.Error(), "too many") {
		t.Errorf("%v swaps: error %v", q.Combinations(), err)
	}
}
