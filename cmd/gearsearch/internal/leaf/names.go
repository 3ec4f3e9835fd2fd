package leaf

import (
	"fmt"
	"strings"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
)

// namer names parts as people call them: by as much of the name as tells them from
// other names of their kind, and where several share the name by what of their ids
// tells those apart.
type namer struct {
	shared map[kindName]int    // parts of that name
	heads  map[kindName]string // the name that begins so, "" for several
	pulley map[toothed]int     // wheel pulleys with these teeth
}

// kindName is a name of a part of a kind, or what it begins with.
type kindName struct{ kind, name string }

// toothed is what a drive says of its wheel pulley.
type toothed struct {
	profile string
	teeth   int
}

func newNamer(c *catalog.Catalog) *namer {
	n := &namer{map[kindName]int{}, map[kindName]string{}, map[toothed]int{}}
	for kind, p := range c.Parts() {
		n.shared[kindName{kind, p.Name}]++
		head := kindName{kind, headOf(p.Name)}
		if other, ok := n.heads[head]; ok && other != p.Name {
			n.heads[head] = ""
		} else {
			n.heads[head] = p.Name
		}
	}
	for _, p := range c.AllPulleys() {
		if p.Side == catalog.WheelSide {
			n.pulley[toothed{p.Profile.ID, p.Teeth}]++
		}
	}
	return n
}

// headOf is a name up to its first comma, behind which catalogs describe.
func headOf(name string) string {
	head, _, _ := strings.Cut(name, ",")
	return strings.TrimSpace(head)
}

// part names the part in a slot of a build.
func (n *namer) part(b *constraints.Build, slot constraints.Slot) Part {
	p := b.Part(slot)
	if p == nil {
		return Part{}
	}
	out := Part{Slot: SlotName(slot.Called(b.Drive.Chained())), ID: p.ID, Name: p.Name, Short: p.Name}
	kind := slot.Kind()
	if b.Drive.Chained() {
		kind = slot.Kinds()[len(slot.Kinds())-1]
	}
	switch {
	case p.Name == "":
		out.Name, out.Short, out.ID = p.ID, p.ID, ""
		return out
	case n.heads[kindName{kind, headOf(p.Name)}] == p.Name:
		out.Short = headOf(p.Name)
	}
	if n.shared[kindName{kind, p.Name}] > 1 {
		out.Apart = strings.TrimPrefix(p.ID, p.Family+"-")
	}
	return out
}

// drive names the drive of a build: a gear drive with its reduction, a belt drive by
// its teeth.
func (n *namer) drive(b *constraints.Build) Part {
	d := b.Drive
	if d.Gear != nil {
		out := n.part(b, constraints.SlotGearDrive)
		if out.Short == "" { // a reduction alone
			out = Part{ID: d.Gear.ID, Name: d.Gear.ID, Short: d.Gear.ID}
		}
		out.Slot, out.Behind = "drive", say.Short(d.Reduction)+":1"
		return out
	}
	large := d.WheelPulley
	teeth := fmt.Sprintf("%d:%d %s", d.MotorPulley.Teeth, large.Teeth, d.MotorPulley.Profile.ID)
	out := Part{Slot: "drive", ID: large.ID, Name: teeth, Short: teeth}
	if large.Name != "" {
		out.Name += ", " + large.Name
	}
	if n.pulley[toothed{large.Profile.ID, large.Teeth}] > 1 {
		out.Apart = large.ID
	}
	return out
}

// chain are the parts of a build in the order in which the power passes them.
func (n *namer) chain(b *constraints.Build) []Part {
	several := func(slot constraints.Slot, count int) Part {
		p := n.part(b, slot)
		if count > 1 {
			p.Before = fmt.Sprintf("%d × ", count)
		}
		return p
	}
	list := []Part{
		n.part(b, constraints.SlotBattery), several(constraints.SlotController, b.Controllers()), several(constraints.SlotMotor, b.Motors()),
		n.drive(b), n.part(b, constraints.SlotMount), n.part(b, constraints.SlotWheel),
	}
	var out []Part
	for _, p := range list {
		if p.Short != "" {
			out = append(out, p)
		}
	}
	return out
}

// text is a part in a line of text.
func (p Part) text() string {
	out := p.Before + p.Short
	for _, more := range []string{p.Apart, p.Behind} {
		if more != "" {
			out += " " + more
		}
	}
	return out
}

// short is a part in a row, long in the sheet of its build, with its id.
func (p Part) short() inside { return p.named(p.Short, p.Apart) }
func (p Part) long() inside  { return p.named(p.Name, p.ID) }

func (p Part) named(name, apart string) inside {
	return el("span", class("part"), text(p.Before), el("bdi", text(name)),
		when(apart != "", text(" "), el("bdi", class("id"), text(apart))), when(p.Behind != "", text(" "+p.Behind)))
}

// names are the parts of a build in a line, by their names, from battery to wheel.
func names(chain []Part, of func(Part) inside) *Node {
	return el("span", class("chain"), each(chain, func(i int, p Part) inside {
		return all{when(i > 0, el("span", class("then"), unseen, text("→"))), said(p.Slot + ": "), of(p), text(" ")}
	}))
}
