package peers

import (
	"context"
	"database/sql"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	_ "github.com/marcboeker/go-duckdb"
	_ "modernc.org/sqlite"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
	"gearsearch/drive"
	"gearsearch/search"
	"gearsearch/search/internal/randcat"
)

var markets = []randcat.Market{
	{Motors: 12, Controllers: 5, Batteries: 8, MotorPulleys: 10, WheelPulleys: 10, Belts: 12, Mounts: 2, Gears: 8, Wheels: 10},
	{Motors: 40, Controllers: 10, Batteries: 20, MotorPulleys: 18, WheelPulleys: 16, Belts: 30, Mounts: 1, Gears: 12, Wheels: 17},
	{Motors: 100, Controllers: 16, Batteries: 30, MotorPulleys: 24, WheelPulleys: 24, Belts: 40, Mounts: 2, Gears: 40, Wheels: 17},
}

const weights = "\n[weights]\nspeed = 0\n"

func problem(tb testing.TB, m randcat.Market) *constraints.Problem {
	tb.Helper()
	c, err := catalog.Read(field.Source{Name: "market", Data: []byte(m.Catalog(rand.New(rand.NewPCG(1, 2))))})
	if err != nil {
		tb.Fatal(err)
	}
	b, err := constraints.ReadBrief(field.Source{Name: "street", Data: []byte(randcat.PlainStreetBrief + weights)})
	if err != nil {
		tb.Fatal(err)
	}
	p, err := constraints.NewProblem(c, b)
	if err != nil {
		tb.Fatal(err)
	}
	return p
}

// answer is what every engine must say alike.
type answer struct {
	feasible uint64
	best     []string // the ids of the best twenty
}

const top = 20

func name(b *constraints.Build) string {
	return strings.Join([]string{b.Battery.ID, b.Controller.ID, b.Motor.ID, b.Drive.Name(), b.Wheel.ID}, " ")
}

// ours asks the search.
func ours(tb testing.TB, p *constraints.Problem) answer {
	r, err := search.Rank(context.Background(), p, search.Options{Top: top})
	if err != nil {
		tb.Fatal(err)
	}
	a := answer{feasible: r.Feasible}
	for s := range r.Builds() {
		a.best = append(a.best, name(s.Build))
	}
	return a
}

// loops asks plain nested loops over the same checks, with early exits.
func loops(p *constraints.Problem) answer {
	type scored struct {
		score float64
		price float64
		name  string
	}
	var a answer
	var all []scored
	b := &constraints.Build{Problem: p}
	for _, battery := range p.Batteries {
		for _, controller := range p.Controllers {
			for _, motor := range p.Motors {
				b.Electrify(battery, controller, motor, 0)
				for _, d := range p.Drives {
					for _, w := range p.Wheels {
						b.Roll(d, w)
						if b.Rejected(false) {
							continue
						}
						a.feasible++
						all = append(all, scored{search.ScoreBuild(b).Score, b.Price().Total(), name(b)})
					}
				}
			}
		}
	}
	slices.SortStableFunc(all, func(x, y scored) int {
		if i, j := math.Round(x.score*1e6), math.Round(y.score*1e6); i != j {
			return int(j - i)
		}
		return int(math.Round(x.price*1e6) - math.Round(y.price*1e6))
	})
	for _, s := range all[:min(top, len(all))] {
		a.best = append(a.best, s.name)
	}
	return a
}

// number writes a number for SQL, NULL where it is not known.
func number(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "null"
	}
	return fmt.Sprintf("%.17ge0", x)
}

// load writes the prepared parts into tables.
func load(tb testing.TB, db *sql.DB, p *constraints.Problem) {
	tb.Helper()
	exec := func(format string, args ...any) {
		if _, err := db.Exec(fmt.Sprintf(format, args...)); err != nil {
			tb.Fatalf("%v\n%.300s", err, fmt.Sprintf(format, args...))
		}
	}
	insert := func(table string, rows []string) {
		for chunk := range slices.Chunk(rows, 500) {
			exec("insert into %s values %s", table, strings.Join(chunk, ","))
		}
	}
	exec("create table battery (i integer, nominal double, fullv double, volts double, cutoff double, ohms double, discharge double, wh double, price double, kg double)")
	var rows []string
	for i, b := range p.Batteries {
		k := b.Pack
		rows = append(rows, fmt.Sprintf("(%d,%s)", i, join(k.Nominal, k.Full, k.Volts, k.Cutoff, k.Resistance, k.Discharge, k.Capacity*k.Nominal, b.Price.Total(), b.Mass.Total())))
	}
	insert("battery", rows)
	exec("create table controller (i integer, ceiling double, maxv double, amps double, feed double, cont double, duty double, eff double, price double, kg double)")
	rows = nil
	for i, c := range p.Controllers {
		rows = append(rows, fmt.Sprintf("(%d,%s)", i, join(c.Ceiling, c.MaxVolts, c.MotorCurrent, c.BatteryCurrent, c.ContinuousCurrent, c.Drive.MaxDuty, c.Drive.Efficiency, c.Price[0].Total(), c.Mass[0].Total())))
	}
	insert("controller", rows)
	exec("create table motor (i integer, kv double, poles double, ohm double, idle double, peak double, cont double, watts double, maxv double, shaft double, key integer, can double, half double, price double, kg double)")
	rows = nil
	for i, m := range p.Motors {
		ohm := drive.CopperResistance(m.Resistance, p.Brief.Limit.Winding)
		rows = append(rows, fmt.Sprintf("(%d,%s)", i, join(m.KV, m.PolePairs, ohm, m.NoLoadCurrent, m.PeakCurrent, m.ContinuousCurrent, m.MaxPower, m.MaxVolts, m.Shaft, float64(m.ShaftKey), m.CanLength, m.CanDiameter/2, m.Price[0].Total(), m.Mass[0].Total())))
	}
	insert("motor", rows)
	exec("create table drive (i integer, bore double, key integer, ratio double, eta double, outside double, stands double, torque double, mesh double, hub varchar, price double, kg double)")
	exec("create table wheel (i integer, r double, crr double, hub varchar, price double, kg double)")
	rows = nil
	for i, d := range p.Drives {
		if row, ok := driveRow(p, d); ok {
			rows = append(rows, fmt.Sprintf("(%d,%s)", i, row))
		}
	}
	insert("drive", rows)
	rows = nil
	for i, w := range p.Wheels {
		rows = append(rows, fmt.Sprintf("(%d,%s,'%s',%s)", i, join(w.Radius, w.Crr), w.Hubs[0], join(w.Price.Total(), w.Mass.Total())))
	}
	insert("wheel", rows)
}

// driveRow prepares a drive that passes profile, belt and mesh. Its torque is
// what it bears at the wheel, NULL where that is not known.
func driveRow(p *constraints.Problem, d *constraints.Drive) (string, bool) {
	mass := d.Mass[0].Total()
	if g := d.Gear; g != nil {
		return fmt.Sprintf("%s,%d,%s,'%s',%s", number(g.Bore), needs(g.ShaftKey), join(d.Reduction, d.Efficiency, d.Outside, d.High, g.MaxTorque, 1), g.Hubs[0], join(d.Price[0].Total(), mass)), true
	}
	if d.MotorPulley.Profile.ID != d.WheelPulley.Profile.ID || d.Belt == nil || float64(d.Mesh) < p.Brief.Limit.MeshTeeth {
		return "", false
	}
	pull := d.Belt.Profile.Pull * d.Belt.Width * drive.MeshFactor(d.Mesh)
	torque := pull * d.MotorPulley.Profile.PitchDiameter(d.MotorPulley.Teeth) / 2 * d.Reduction * d.Efficiency
	mesh := max(0, min(1, float64(d.Mesh-4)/8))
	return fmt.Sprintf("%s,%d,%s,'%s',%s", number(d.MotorPulley.Bore), needs(d.MotorPulley.ShaftKey), join(d.Reduction, d.Efficiency, d.Outside, d.High, torque, mesh), d.WheelPulley.Hubs[0], join(d.Price[0].Total(), mass)), true
}

// needs is the shaft key that a part needs, 0 for none.
func needs(k catalog.ShaftKey) int {
	if k == catalog.KeyFlat || k == catalog.KeyKeyway {
		return int(k)
	}
	return 0
}

func join(xs ...float64) string {
	var s []string
	for _, x := range xs {
		s = append(s, number(x))
	}
	return strings.Join(s, ",")
}

// ask runs the question. least and greatest are the names of the functions.
func ask(tb testing.TB, db *sql.DB, p *constraints.Problem, least, greatest string) answer {
	tb.Helper()
	b, t := p.Brief, p.Brief.Target
	sin, cos := math.Sin(p.Theta), math.Cos(p.Theta)
	drag := p.AirDensity * b.Rider.DragArea / 2
	replace := strings.NewReplacer(
		"LEAST", least, "GREATEST", greatest, "{tol}", "1.000000001",
		"{base}", number(b.Rider.Mass+b.Board.Mass), "{hanger}", number(b.Board.Hanger), "{clear}", number(b.Limit.GroundClearance),
		"{head}", number(1-b.Limit.ERPMHeadroom), "{hold}", number(p.Grip*p.Shares[0]*drive.Gravity),
		"{sin}", number(sin), "{cos}", number(cos), "{g}", number(drive.Gravity),
		"{vt}", number(t.TopSpeed), "{vc}", number(t.ClimbSpeed), "{vr}", number(t.Cruise),
		"{dt}", number(drag*t.TopSpeed*t.TopSpeed), "{dc}", number(drag*t.ClimbSpeed*t.ClimbSpeed), "{dr}", number(drag*t.Cruise*t.Cruise),
		"{limit}", number(b.Limit.Price), "{range}", number(t.Range), "{usable}", number(b.Limit.Usable), "{ride}", number(b.Limit.RideFactor),
		"{massref}", number(p.MassReference), "{board}", number(b.Board.Mass))
	for _, statement := range strings.Split(replace.Replace(question), ";\n") {
		if strings.HasPrefix(strings.TrimSpace(statement), "select") {
			break
		}
		if _, err := db.Exec(statement); err != nil {
			tb.Fatalf("%v\n%s", err, statement)
		}
	}
	var a answer
	if err := db.QueryRow("select count(*) from good").Scan(&a.feasible); err != nil {
		tb.Fatal(err)
	}
	rows, err := db.Query(fmt.Sprintf("select b, c, m, d, w from good order by round(score * 1e6) desc, round(price * 1e6), b, c, m, d, w limit %d", top))
	if err != nil {
		tb.Fatal(err)
	}
	defer rows.Close()
	for rows.Next() {
		var i [5]int
		if err := rows.Scan(&i[0], &i[1], &i[2], &i[3], &i[4]); err != nil {
			tb.Fatal(err)
		}
		a.best = append(a.best, strings.Join([]string{p.Batteries[i[0]].ID, p.Controllers[i[1]].ID, p.Motors[i[2]].ID, p.Drives[i[3]].Name(), p.Wheels[i[4]].ID}, " "))
	}
	return a
}

// question makes the table good: every feasible build with price and score.
// i_v, i_p, i_c bound the current of a motor at a speed by volts, power and
// setting; f is force per ampere and unit of gearing.
const question = `
drop table if exists e;
create table e as
  select b.i as b, c.i as c, m.i as m, m.shaft, m.key, b.nominal, b.ohms, b.wh, m.idle, m.ohm, m.half,
    9.549296585513721 / m.kv as k, 0.8660254037844386 * LEAST(c.amps, m.peak) as ic,
    c.duty * b.volts as dv, m.ohm + 2 * c.duty * c.duty * b.ohms / c.eff as loop,
    LEAST(c.eff * pack * (b.volts - pack * b.ohms) / 2, m.watts) as pw,
    c.eff, LEAST(m.cont, c.cont) as heat, m.kv * b.fullv * m.poles / c.ceiling as turns,
    b.price + c.price + m.price as price, b.kg + c.kg + m.kg as kg
  from controller c, motor m,
    (select b.*, c2.i as ci, LEAST(LEAST(2 * c2.feed, b.discharge), LEAST((b.volts - b.cutoff) / b.ohms, b.volts / (2 * b.ohms))) as pack from battery b, controller c2) b
  where b.ci = c.i and b.fullv <= LEAST(c.maxv, m.maxv) * {tol} and m.kv * b.fullv * m.poles <= c.ceiling * {head} * {tol}
    and 2 * m.can <= {hanger} * {tol};
drop table if exists roll;
create table roll as
  select d.i as d, w.i as w, d.bore, d.key, d.eta, d.ratio / w.r as x, d.torque / w.r * 2 as bears, d.mesh, w.crr, w.r + d.stands as stands, d.price + w.price as price, d.kg + w.kg as kg
  from drive d join wheel w on w.hub = d.hub where w.r - d.outside >= {clear} / {tol};
drop table if exists good;
create table good as
with pairs as (
  select *, e.price + roll.price as total, {base} + e.kg + roll.kg as mass, 2 * eta * x * k as f, k * x as kx,
    e.kg + roll.kg + {board} as carried
  from e join roll on e.shaft = roll.bore and (roll.key = 0 or roll.key = e.key)
  where e.price + roll.price <= {limit} * {tol} and roll.stands - e.half >= {clear} / {tol}
), loads as (
  select *, mass * {g} * ({sin} + crr * {cos}) + {dc} as need, mass * {g} * crr + {dt} as lt, mass * {g} * crr + {dr} as lr from pairs
), thrusts as (
  select *,
    f * (LEAST(LEAST(ic, (dv - kx * {vt}) / loop), (sqrt(kx * {vt} * kx * {vt} + 4 * ohm * pw) - kx * {vt}) / (2 * ohm)) - idle) as ft,
    f * (LEAST(LEAST(ic, (dv - kx * {vc}) / loop), (sqrt(kx * {vc} * kx * {vc} + 4 * ohm * pw) - kx * {vc}) / (2 * ohm)) - idle) as fc,
    f * (LEAST(LEAST(ic, (dv - kx * {vr}) / loop), (sqrt(kx * {vr} * kx * {vr} + 4 * ohm * pw) - kx * {vr}) / (2 * ohm)) - idle) as fr,
    (need / f + idle) / 0.8660254037844386 as amps, lr / f + idle as steady
  from loads
), fit as (
  select *, 2 * steady * (kx * {vr} + steady * ohm) / eff as power from thrusts
  where LEAST(ft, mass * {hold}) >= lt / {tol} and LEAST(fc, mass * {hold} * {cos}) >= need / {tol} and amps <= heat * {tol}
    and (bears is null or need <= bears * {tol}) and LEAST(fr, mass * {hold}) >= lr / {tol}
), ranged as (
  select *, wh * {usable} * 3600 / (nominal * ((nominal - sqrt(nominal * nominal - 4 * ohms * power)) / (2 * ohms)) / {vr} * {ride}) as metres
  from fit where nominal * nominal >= 4 * ohms * power
)
select b, c, m, d, w, total as price,
  100 * (3 * GREATEST(0, LEAST(1, fc / need - 1)) + 2 * GREATEST(0, LEAST(1, (1 - turns) / 0.4)) + 2 * LEAST(1, metres / (1.5 * {range}))
    + 2 * GREATEST(0, LEAST(1, heat / amps - 1)) + 2 * GREATEST(0, 1 - total / {limit}) + GREATEST(0, 1 - carried / {massref}) + mesh) / 13 as score
from ranged where metres >= {range} / {tol};
select 1`

// engines are the peers, each with a way to open it.
var engines = []struct{ name, driver, source, least, greatest string }{
	{"sqlite", "sqlite", ":memory:", "min", "max"},
	{"duckdb", "duckdb", "", "least", "greatest"},
}

// TestPeersAgree: every engine counts the same builds and ranks the same best.
func TestPeersAgree(t *testing.T) {
	p := problem(t, markets[0])
	want := ours(t, p)
	if want.feasible == 0 {
		t.Fatal("nothing feasible: the test does not test")
	}
	want.compare(t, "loops", loops(p))
	for _, e := range engines {
		db := open(t, e.driver, e.source)
		load(t, db, p)
		want.compare(t, e.name, ask(t, db, p, e.least, e.greatest))
	}
}

// compare reports an engine that says something else.
func (a answer) compare(tb testing.TB, engine string, got answer) {
	tb.Helper()
	if got.feasible != a.feasible || !slices.Equal(got.best, a.best) {
		tb.Errorf("%s: %d feasible, ours %d\n%s\nours\n%s", engine, got.feasible, a.feasible, strings.Join(got.best, "\n"), strings.Join(a.best, "\n"))
	}
}

func open(tb testing.TB, driver, source string) *sql.DB {
	tb.Helper()
	db, err := sql.Open(driver, source)
	if err != nil {
		tb.Fatal(err)
	}
	db.SetMaxOpenConns(1) // a database in memory belongs to its connection
	tb.Cleanup(func() { db.Close() })
	return db
}

// BenchmarkPeers puts each market to each engine, compares the answers, and
// reports how many times as long as the search an engine takes.
func BenchmarkPeers(b *testing.B) {
	for _, m := range markets {
		p := problem(b, m)
		var want answer
		var search float64 // s
		run := func(engine string, answers func(b *testing.B) func() answer) {
			b.Run(fmt.Sprintf("combinations=%.1e/engine=%s", m.Combinations(), engine), func(b *testing.B) {
				ask := answers(b)
				var got answer
				for b.Loop() {
					got = ask()
				}
				taken := b.Elapsed().Seconds() / float64(b.N)
				if search == 0 {
					want, search = got, taken
				}
				want.compare(b, engine, got)
				b.ReportMetric(taken/search, "times-the-search")
			})
		}
		run("search", func(b *testing.B) func() answer { return func() answer { return ours(b, p) } })
		run("loops", func(*testing.B) func() answer { return func() answer { return loops(p) } })
		for _, e := range engines {
			run(e.name, func(b *testing.B) func() answer {
				db := open(b, e.driver, e.source)
				load(b, db, p)
				return func() answer { return ask(b, db, p, e.least, e.greatest) }
			})
		}
	}
}
