package constraints

import "gearsearch/drive"

// fullMesh is how many whole teeth in mesh carry a belt's full handbook pull.
const fullMesh = 6

// briskSpeed is the road speed in m/s from which a fall deserves more than the
// helmet that the general cautions ask for on every board: 30 km/h, common practice, no published
// source.
const briskSpeed = 30 / kmh

// CautionCode is what a caution says.
type CautionCode string

// The cautions. The quantities of each are in its order.
const (
	DemotedFails     CautionCode = "demoted-fails"     // a check
	DemotedUndecided CautionCode = "demoted-undecided" // a check
	NoBeltChosen     CautionCode = "no-belt-chosen"
	FewInMesh        CautionCode = "few-in-mesh"        // whole teeth in mesh, those of the full pull
	FewInMeshIdler   CautionCode = "few-in-mesh-idler"  // the same, the idler's wrap left out
	ChargedAboveFull CautionCode = "charged-above-full" // the brief's volts, the full pack's
	SlipsOnFlat      CautionCode = "slips-on-flat"
	SlipsOnGrade     CautionCode = "slips-on-grade"
	LiftsOnFlat      CautionCode = "lifts-on-flat"
	LiftsOnGrade     CautionCode = "lifts-on-grade"
	Brisk            CautionCode = "brisk" // top speed

	// Of every board.
	OnlyComputed CautionCode = "only-computed"
	PacksBurn    CautionCode = "packs-burn"
	FullPack     CautionCode = "full-pack"
	WearHelmet   CautionCode = "wear-helmet"
)

// CautionCodes lists every code of a build's cautions and, after them, of those
// of every board, in the order in which they are given.
func CautionCodes() []CautionCode {
	return []CautionCode{
		DemotedFails, DemotedUndecided, NoBeltChosen, FewInMesh, FewInMeshIdler,
		ChargedAboveFull, SlipsOnFlat, SlipsOnGrade, LiftsOnFlat, LiftsOnGrade, Brisk,
		OnlyComputed, PacksBurn, FullPack, WearHelmet,
	}
}

// Caution is what a builder should know beyond verdicts, without its words.
// Cautions that are equal say the same.
type Caution struct {
	Code       CautionCode
	Check      string      // that it is about, by name; "" for none
	Quantities [2]Quantity // as many as the code has, the others zero
}

// caution is a caution with its quantities.
func caution(code CautionCode, quantities ...Quantity) Caution {
	c := Caution{Code: code}
	copy(c.Quantities[:], quantities)
	return c
}

// Cautions are what a builder should know of this build beyond its verdicts,
// in a fixed order.
func (b *Build) Cautions() []Caution { return b.AppendCautions(nil) }

// AppendCautions appends the cautions of this build.
func (b *Build) AppendCautions(to []Caution) []Caution {
	for _, r := range b.demotedResults() {
		switch r.Verdict {
		case Fail:
			to = append(to, Caution{Code: DemotedFails, Check: r.Name})
		case Undecided:
			to = append(to, Caution{Code: DemotedUndecided, Check: r.Name})
		}
	}
	to = b.Drive.appendCautions(to)
	if p := b.Battery.Pack; p.Full > 0 && p.Volts > p.Full && !equal(p.Volts, p.Full) {
		to = append(to, caution(ChargedAboveFull, volts(p.Volts), volts(p.Full)))
	}
	if code, ok := b.held(); ok {
		to = append(to, Caution{Code: code})
	}
	if v, _ := b.TopSpeed(); drive.AtLeast(v, briskSpeed) {
		to = append(to, caution(Brisk, Quantity{SI: v, PerSI: kmh, Unit: "km/h", Digits: OneDecimal}))
	}
	return to
}

// held says what the driven wheels do where they hold the thrust of the climb.
func (b *Build) held() (code CautionCode, ok bool) {
	flat, grade := SlipsOnFlat, SlipsOnGrade
	switch b.board.ThrustLimit(b.Problem.Brief.Target.ClimbSpeed, b.Problem.Theta) {
	case drive.Grip:
	case drive.Lift:
		flat, grade = LiftsOnFlat, LiftsOnGrade
	default:
		return "", false
	}
	if b.Problem.Climbs() {
		return grade, true
	}
	return flat, true
}

// appendCautions appends those about the belt.
func (d *Drive) appendCautions(to []Caution) []Caution {
	if d.Gear != nil {
		return to
	}
	if d.Belt == nil {
		to = append(to, Caution{Code: NoBeltChosen})
	}
	if d.Mesh >= 0 && d.Mesh < fullMesh {
		code := FewInMesh
		if d.idler() {
			code = FewInMeshIdler
		}
		to = append(to, caution(code, count(d.Mesh), count(fullMesh)))
	}
	return to
}

// GeneralCautions hold for every board.
func GeneralCautions() []Caution {
	return []Caution{{Code: OnlyComputed}, {Code: PacksBurn}, {Code: FullPack}, {Code: WearHelmet}}
}
