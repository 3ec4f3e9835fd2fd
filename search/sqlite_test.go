package search

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
)

// SQLite decides the same question in its own way: the parts as they are
// written go into tables, and one query, made from the model and not from the
// program, joins them all and judges each combination. What is not known is
// NULL, and SQL's three-valued logic carries it: a check is true, false or
// NULL. Speeds are decided without solving for them: the top speed is at
// least v where the thrust at v is at least the load, since thrust falls with
// speed and load rises. Each combination stands twice, once for either corner of
// what is not known, and the two are put together at the end. The launch has no closed form, and the choice of belts
// is no join: briefs here ask for no launch, and catalogs have no mounts.

// sqlPacks makes a view of the packs, all in SI units. SQL divides whole numbers as such:
// one of the two has a point.
const sqlPacks = `
create view corners as select 'worst' as corner, 1 as bad union all select 'best', 0;

-- The resistance of a cell times its ampere-hours, by what it is made of.
create view likely as
  select k.corner, s.* from corners k join (
    select 'li-ion' as is_of, 0.02 as low, 0.16 as high union all select 'lfp', 0.015, 0.12 union all select 'li-po', 0.008, 0.10) s;

-- A pack that the charge leaves at or below its cut-off is in no build.
create view packs as select * from (
  select b.id, k.corner,
    coalesce(b.series * c.nominal_v, b.nominal_v) as nominal,
    coalesce(b.series * c.full_v, b.full_v) as full,
    coalesce(b.series * c.cutoff_v, b.cutoff_v) as cutoff,
    case q.charge when 'full' then coalesce(b.series * c.full_v, b.full_v)
      when 'nominal' then coalesce(b.series * c.nominal_v, b.nominal_v)
      else b.series * q.charge end as volts,
    icy * coalesce(b.resistance_mohm / 1000.0, c.resistance_mohm * b.series / coalesce(b.parallel, 1) / 1000.0,
      (select iif(k.bad, high, low) from likely y where y.corner = k.corner
        and y.is_of = coalesce(b.chemistry, c.chemistry, iif(b.cell is null, 'li-po', 'li-ion')))
        * b.series * 1.0 / iif(b.cell is null, b.capacity_ah, coalesce(b.parallel, 1) * c.capacity_ah), 0)
      + coalesce(b.wiring_mohm, 0) / 1000.0 as ohms,
    coalesce(b.discharge_a, coalesce(b.parallel, 1) * c.discharge_a) as discharge,
    coalesce(b.capacity_ah, coalesce(b.parallel, 1) * c.capacity_ah) as capacity, coalesce(b.charge_a, c.charge_a) = 0 as barred,
    case when b.owned then 0 when b.price is not null then b.price when c.owned then 0
      else (b.series * coalesce(b.parallel, 1) + c.sold_in - 1) / c.sold_in * c.price end as price,
    coalesce(b.mass_g, b.series * coalesce(b.parallel, 1) * c.mass_g * (1 + coalesce(b.overhead_pct, 12) / 100.0)) / 1000 as mass
  from corners k, battery b left join cell c on c.id = b.cell, brief q)
  where cutoff is null or volts > cutoff * (1 + 1e-9);
`

// sqlModel makes views of the other tables.
const sqlModel = `
-- What stands in for a motor's resistance and no-load current, by its mass, else
-- by the volume of its can.
create view motors as
  select m.*, k.corner,
    coalesce(m.resistance_mohm / 1000.0, e.k * e.k / (iif(k.bad, 0.02, 0.12) * e.kg), iif(k.bad, null, 1e-12)) as cold,
    coalesce(m.no_load_current_a, iif(k.bad, 0.12, 0.02) * e.kg / e.k, 0) as idle
  from corners k, motor m join (
    select id as of, 60 / (2 * 3.14159265358979324 * kv) as k,
      nullif(coalesce(mass_g / 1000.0, 3600 * 3.14159265358979324 / 4 * can_diameter_mm * can_diameter_mm * can_length_mm * 1e-9), 0) as kg
    from motor) e on e.of = m.id;

-- A lot is sold_in pieces: n pieces take (n + sold_in - 1) / sold_in of them.
create view costs as
  select p.id, n.count as n,
    case when p.owned then 0 else (p.pieces + p.sold_in - 1) / p.sold_in * p.price end as price,
    p.pieces * p.mass_g / 1000 as mass
  from counts n join (
    select m.id, k.count, k.count as pieces, owned, sold_in, price, mass_g from motor m, counts k
    union all select c.id, k.count, (k.count + coalesce(c.channels, 1) - 1) / coalesce(c.channels, 1), owned, sold_in, price, mass_g from controller c, counts k
    union all select p.id, k.count, k.count, owned, sold_in, price, mass_g from pulley p, counts k
    union all select g.id, k.count, k.count, owned, sold_in, price, mass_g from gear_drive g, counts k
    union all select w.id, k.count, 4, owned, sold_in, price, mass_g from wheel w, counts k
  ) p on p.count = n.count;

create view drives as
  select null as gear, s.id as small, l.id as large, l.teeth * 1.0 / s.teeth as ratio, 0.96 as eta,
    (l.teeth * f.pitch / 3.14159265358979324 - 2 * f.line) / 2 + 0.002 as outside,
    s.bore_mm as bore, s.shaft_key as key, 0 as in_wheel, null as torque, s.profile = l.profile as profile, l.id as hubs,
    0 as lists_motors, 0 as lists_wheels, null as centre, null as angle
  from pulley s, pulley l join tooth f on f.id = l.profile where s.side = 'motor' and l.side = 'wheel'
  union all
  select id, null, null, coalesce(ratio, driven_teeth * 1.0 / driver_teeth), coalesce(efficiency, case when in_wheel then 1 else 0.97 end), outside_mm / 2000.0,
    bore_mm, shaft_key, coalesce(in_wheel, 0), max_torque_nm, null, id,
    exists (select 1 from fits where part = id and what = 'motor'), exists (select 1 from fits where part = id and what = 'wheel'),
    centre_mm / 1000.0, angle_deg * 3.14159265358979324 / 180
  from gear_drive;

create view rolling as
  select w.id, w.diameter_mm / 2000.0 * coalesce(w.rolling_radius_ratio, case w.tyre when 'pneumatic' then 0.97 else 1 end) as r,
    coalesce(q.rolling_resistance, w.rolling_resistance,
      case w.tyre when 'pneumatic' then s.pneumatic when 'rubber' then s.rubber else s.urethane end) as crr
  from wheel w, brief q join surface s on s.name = q.surface;

-- One row for each combination, with all that its checks read.
create table builds as
  select b.corner, b.id as battery, c.id as controller, m.id as motor, n.count as n, d.gear, d.small, d.large, w.id as wheel,
    b.nominal, b.full, b.volts, b.ohms, b.capacity, coalesce(b.barred, 0) as barred,
    60 / (2 * 3.14159265358979324 * m.kv) as k, m.kv, coalesce(m.pole_pairs, 7) as poles,
    m.cold * (1 + 0.00393 * (q.winding_c - 20)) as ohm, m.idle,
    case c.commutation when 'six-step' then 1 else sqrt(3) / 2 end as phase,
    coalesce(min(coalesce(c.motor_current_a, m.peak_current_a), coalesce(m.peak_current_a, c.motor_current_a)), iif(b.corner = 'best', 1e9, null)) as amps,
    coalesce(c.max_duty, 0.95) as duty, coalesce(c.efficiency, 0.97) as eff,
    b.corner = 'best' or c.battery_current_a is not null or b.discharge is not null as fed,
    -- So little is known that the estimate decides.
    m.resistance_mohm is null and nullif(coalesce(m.mass_g, m.can_diameter_mm * m.can_length_mm), 0) is null and m.peak_current_a is null and m.max_power_w is null
      and c.motor_current_a is null and c.battery_current_a is null and b.discharge is null as guessed,
    -- What the pack gives: NULL where nothing bounds it.
    min(coalesce(n.count * c.battery_current_a, 1e9), coalesce(b.discharge, 1e9),
      coalesce((b.volts - b.cutoff) / nullif(b.ohms, 0), 1e9), coalesce(b.volts / (2 * nullif(b.ohms, 0)), 1e9)) as pack,
    coalesce(m.max_power_w, 1e9) as watts,
    d.ratio, d.eta, w.r, w.crr, coalesce(q.drag_area_m2, (select area from posture where name = q.posture)) * q.density / 2 as drag,
    q.rider_kg + q.board_kg + coalesce(b.mass, 0) + coalesce(cc.mass, 0) + coalesce(cm.mass, 0) + coalesce(cs.mass, 0)
      + coalesce(cl.mass, 0) + coalesce(cg.mass, 0) + coalesce(cw.mass, 0) as kg,
    b.mass + cc.mass + cm.mass + iif(d.gear is null, cs.mass + cl.mass, cg.mass) + cw.mass is null as mass_missing,
    coalesce(b.price, 0) + coalesce(cc.price, 0) + coalesce(cm.price, 0) + coalesce(cs.price, 0) + coalesce(cl.price, 0)
      + coalesce(cg.price, 0) + coalesce(cw.price, 0) as cost,
    b.price + cc.price + cm.price + iif(d.gear is null, cs.price + cl.price, cg.price) + cw.price is null as price_missing,
    coalesce(q.grip, s.grip * iif(q.wet, 0.5, 1)) as mu,
    max(0, q.rear_share - q.lean) as fore, min(1, q.rear_share + q.lean) as aft, q.axle_min as least, q.centre_height_mm * 1.0 / q.wheelbase_mm as tall,
    -- With a full pack, for the greatest speed.
    min(coalesce(n.count * c.battery_current_a, 1e9), coalesce(b.discharge, 1e9),
      coalesce((b.full - b.cutoff) / nullif(b.ohms, 0), 1e9), coalesce(b.full / (2 * nullif(b.ohms, 0)), 1e9)) as pack_full,
    min(coalesce(c.erpm_ceiling, q.erpm_ceiling), coalesce(q.erpm_ceiling, c.erpm_ceiling)) as ceiling,
    min(coalesce(c.max_volts, m.max_volts), coalesce(m.max_volts, c.max_volts)) as most_volts,
    m.continuous_current_a as heat, coalesce(c.continuous_current_a, 1e9) as heat_too,
    m.shaft_mm as shaft, m.shaft_key as shaft_key, m.can_length_mm as can, m.can_diameter_mm / 2000.0 as half, m.sensored, d.centre, d.angle, d.bore, d.key, d.in_wheel, d.torque, d.outside,
    d.profile, d.hubs, d.lists_motors, d.lists_wheels
  from packs b, controller c, motors m, counts n, drives d, rolling w, brief q
    join surface s on s.name = q.surface and m.corner = b.corner
    join costs cc on cc.id = c.id and cc.n = n.count
    join costs cm on cm.id = m.id and cm.n = n.count
    join costs cw on cw.id = w.id and cw.n = n.count
    left join costs cs on cs.id = d.small and cs.n = n.count
    left join costs cl on cl.id = d.large and cl.n = n.count
    left join costs cg on cg.id = d.gear and cg.n = n.count;

-- The combinations at each speed that a check asks about. The volts and the
-- watts of a motor bound its current; the thrust is NULL where it is not known.
create view speeds as select 'aim' as at, top_speed_kmh / 3.6 as v, top_speed_kmh / 3.6 as air, 0 as brim from brief
  union all select 'most', top_speed_max_kmh / 3.6, top_speed_max_kmh / 3.6, 1 from brief
  union all select 'climb', climb_speed_kmh / 3.6, climb_speed_kmh / 3.6, 0 from brief
  union all select 'cruise', cruise_kmh / 3.6, cruise_kmh / 3.6, 0 from brief
  union all select 'into', cruise_kmh / 3.6, (cruise_kmh + wind_kmh) / 3.6, 0 from brief;
create table moving as
  select u.rowid as build, t.at,
    iif(fed and amps is not null and ohm is not null, max(0, u.n * eta * ratio / r * k * (min(phase * amps,
      (duty * iif(brim, full, volts) - k * v * ratio / r) / (ohm + u.n * duty * duty * ohms / eff),
      (-k * v * ratio / r + sqrt(k * v * ratio / r * k * v * ratio / r + 4 * ohm * min(eff * iif(brim, pack_full * (full - pack_full * ohms), pack * (volts - pack * ohms)) / u.n, watts))) / (2 * ohm)
    ) - idle)), null) as thrust,
    kg * 9.80665 * crr + drag * air * air as load,
    coalesce(v * ratio / r * 30 / 3.14159265358979324 * poles <= ceiling * (1 + 1e-9), 1) as turns
  from builds u, speeds t;
create index moment on moving (build, at);
`

// sqlVerdicts judges each combination, check by check: 1, 0 or NULL.
const sqlVerdicts = `
create table cornered as
with slips as (
  -- The rear axle's share at which it slips and the front one lifts at once.
  select *, rowid as id, mu * iif(n = 1, 0.5, 1) as slip, 1 - least - tall * (mu * iif(n = 1, 0.5, 1) * (1 - least) - crr) as meet, (1 - fore - least) / tall + crr as lift
  from builds
), held as (
  select *, max(0, case when n = 4 then min(mu, lift) when meet < fore then lift when meet <= aft then slip * (1 - least)
    when aft <= crr * tall or slip * tall >= 1 then 0 else slip * (aft - crr * tall) / (1 - slip * tall) end) as hold
  from slips
), facts as (
  select u.*, q.*,
    hold * kg * 9.80665 as grip_flat, climb_grade_pct / 100.0 as slope,
    aim.thrust as aim_thrust, aim.load as aim_load, aim.turns as aim_turns,
    most.thrust as most_thrust, most.load as most_load, most.turns as most_turns,
    climb.thrust as climb_thrust, climb.load as climb_load,
    cruise.thrust as cruise_thrust, cruise.load as cruise_load, cruise.turns as cruise_turns, gust.thrust as gust_thrust, gust.load as gust_load,
    derate * kv * volts * 2 * 3.14159265358979324 * r / (60 * ratio) as guess,
    derate * kv * full * 2 * 3.14159265358979324 * r / (60 * ratio) as full_guess,
    -- The forces of the ride: against the wind, with it, and gathering speed.
    kg * 9.80665 * crr + drag * (cruise_kmh - wind_kmh) * abs(cruise_kmh - wind_kmh) / 12.96 as with_load,
    kg * 9.80665 * crr + drag * cruise_kmh * cruise_kmh / 51.84 + kg as up_load,
    kg * (stops_per_km / 1000.0 * cruise_kmh * cruise_kmh / 25.92 + 9.80665 * ascent_m_per_km / 1000.0) as kept
  from held u, brief q
    join moving aim on aim.build = u.id and aim.at = 'aim'
    join moving most on most.build = u.id and most.at = 'most'
    join moving climb on climb.build = u.id and climb.at = 'climb'
    join moving cruise on cruise.build = u.id and cruise.at = 'cruise'
    join moving gust on gust.build = u.id and gust.at = 'into'
), forces as (
  select *,
    -- The slope lays cos θ of the weight on the wheels and sin θ along it.
    (kg * 9.80665 * (slope + crr) / sqrt(1 + slope * slope)) + climb_load - kg * 9.80665 * crr as need,
    grip_flat / sqrt(1 + slope * slope) as grip_slope,
    gust_load * r / (n * eta * ratio * k) + idle as steady, max(0, with_load) * r / (n * eta * ratio * k) + idle as eased, up_load * r / (n * eta * ratio * k) + idle as rising,
    cruise_kmh / 3.6 * ratio / r * k as emf,
    iif(guessed, guess >= cruise_kmh / 3.6 * (1 - 1e-9), 1) and coalesce(min(cruise_thrust, grip_flat) >= cruise_load * (1 - 1e-9), iif(guessed, 1, null)) and cruise_turns as outruns
  from facts
), flows as (
  select *,
    n * steady * (emf + steady * ohm) / eff as power, nominal * nominal - 4 * ohms * n * steady * (emf + steady * ohm) / eff as spare,
    n * eased * (emf + eased * ohm) / eff as with_power, nominal * nominal - 4 * ohms * n * eased * (emf + eased * ohm) / eff as with_spare,
    iif(kept > 0, n * rising * (emf / 2 + rising * ohm) / eff, 0) as up_power, iif(kept > 0, nominal * nominal - 4 * ohms * n * rising * (emf / 2 + rising * ohm) / eff, 1) as up_spare,
    (need * r / (n * eta * ratio * k) + idle) / phase as climb_amps
  from forces
), given as (
  -- W of the cells.
  select *, 2 * nominal * power / (nominal + sqrt(max(0, spare))) as cells, 2 * nominal * with_power / (nominal + sqrt(max(0, with_spare))) as with_cells,
    2 * nominal * up_power / (nominal + sqrt(max(0, up_spare))) as up_cells
  from flows
)
select corner, guessed, battery, controller, motor, n, gear, small, large, wheel,
  iif(lists_motors, exists (select 1 from fits where part = gear and what = 'motor' and other = motor),
    abs(shaft - bore) <= 1e-9 * bore and iif(key in ('flat', 'keyway'), key = shaft_key, 1)) as bore,
  coalesce(not asked_sensored, 1) or sensored as sensor,
  coalesce(profile, 1) as profile,
  iif(lists_wheels, exists (select 1 from fits where part = gear and what = 'wheel' and other = wheel),
    iif(exists (select 1 from hub where part = hubs) and exists (select 1 from hub where part = wheel),
      exists (select 1 from hub a join hub b on a.name = b.name where a.part = hubs and b.part = wheel), null)) as hub,
  iif(gear is null, null, 1) as belt,
  iif(gear is null, null, 1) as mesh,
  r - outside >= ground_clearance_mm / 1000.0 * (1 - 1e-9) as clearance,
  coalesce(hanger_mm is null or in_wheel, 0) or min(n, 2) * can <= hanger_mm * (1 + 1e-9) as hanger,
  full <= most_volts * (1 + 1e-9) as voltage,
  iif((select count(*) from builds where ceiling is not null) = 0, 1,
    iif(erpm_rule = 'at-speed', top_speed_kmh / 3.6 * ratio / r * 30 / 3.14159265358979324 * poles, kv * full * poles)
      <= ceiling * (1 - erpm_headroom_pct / 100.0) * (1 + 1e-9)) as erpm,
  -- A shaft of which no angle is known may stand level or higher.
  case when in_wheel then 1
    when r + iif(angle = 0 or angle is null, 0, centre * sin(angle)) - half >= ground_clearance_mm / 1000.0 - 1e-11 then 1
    when r + iif(angle = 0, 0, centre * iif(angle is null, 1, sin(angle))) - half < ground_clearance_mm / 1000.0 - 1e-11 then 0 end as can,
  iif(price_limit is null, 1, iif(cost > price_limit * (1 + 1e-9), 0, iif(price_missing, null, 1))) as price,
  iif(mass_limit is null, 1, iif(kg - rider_kg > mass_limit * (1 + 1e-9), 0, iif(mass_missing, null, 1))) as mass,
  iif(top_speed_kmh is null, 1, iif(guessed, guess >= top_speed_kmh / 3.6 * (1 - 1e-9), 1)
    and coalesce(min(aim_thrust, grip_flat) >= aim_load * (1 - 1e-9), iif(guessed, 1, null)) and aim_turns) as "top-speed",
  iif(top_speed_max_kmh is null, 1, iif(guessed, full_guess <= top_speed_max_kmh / 3.6 * (1 + 1e-9), 0)
    or min(most_thrust, grip_flat) <= most_load * (1 + 1e-9) or not most_turns) as "top-speed-max",
  iif(climb_grade_pct is null, 1, min(climb_thrust, grip_slope) >= need * (1 - 1e-9)) as climb,
  iif(hill_torque_nm is null, 1, climb_thrust * r >= hill_torque_nm * (1 - 1e-9)) as "hill-torque",
  iif(climb_grade_pct is null, 1, climb_amps <= heat_factor * heat * (1 + 1e-9) and climb_amps <= heat_factor * heat_too * (1 + 1e-9)) as heat,
  iif(climb_grade_pct is null or gear is not null, 1, null) as "belt-load",
  iif(climb_grade_pct is null or gear is null, 1, need * r / n <= torque * (1 + 1e-9)) as "gear-torque",
  iif(range_km is null, 1, iif(not outruns or wind_kmh > 0 and not coalesce(min(gust_thrust, grip_flat) >= gust_load * (1 - 1e-9), 1), 0, iif(ohm is null, null, iif(min(spare, with_spare, up_spare) < 0, 0,
    capacity * nominal * usable_pct / 100 * thrifty * 3.6
      / (((cells + with_cells) / 2 / (cruise_kmh / 3.6) + iif(kept > 0, kept * (up_cells / (up_load * cruise_kmh / 7.2) - back * iif(barred, 0, 1)), 0)) * ride_factor)
      >= range_km * (1 - 1e-9) and outruns)))) as range
from given;
create index corner on cornered (corner, battery, controller, motor, n, gear, small, large, wheel);
`

// sqlJudged puts the corners together: a check fails where the better one fails,
// passes where the worse passes, and is NULL between. A board that is too fast is
// so in the worse, if that can be told; where an estimate decides, it is both.
func sqlJudged() string {
	var s strings.Builder
	s.WriteString("create table judged as select w.battery, w.controller, w.motor, w.n, w.gear, w.small, w.large, w.wheel")
	for _, c := range sqlChecks {
		easy, hard := "b", "w"
		if c == "top-speed-max" {
			easy, hard = hard, easy
		}
		fmt.Fprintf(&s, `,
  iif(w.guessed and '%[1]s' like 'top-speed%%', b."%[1]s", case when %[2]s."%[1]s" = 0 then 0 when %[3]s."%[1]s" = 1 then 1 end) as "%[1]s"`, c, easy, hard)
	}
	s.WriteString(`
from cornered w join cornered b on b.corner = 'best' and b.battery = w.battery and b.controller = w.controller and b.motor = w.motor and b.n = w.n
  and b.gear is w.gear and b.small is w.small and b.large is w.large and b.wheel = w.wheel
where w.corner = 'worst';
`)
	return s.String()
}

// sqlChecks are the checks that the query decides, in order.
var sqlChecks = strings.Fields(`bore sensor profile hub belt mesh clearance hanger voltage erpm can price mass top-speed top-speed-max
	climb heat belt-load gear-torque range hill-torque`)

// sqlReport asks for each combination's ids, the first check that rejects it,
// and whether a check is undecided. undecided says what a NULL counts as.
func sqlReport(demoted []string, undecided int) string {
	first, unknown := "case", "0"
	for _, c := range sqlChecks {
		unknown += fmt.Sprintf(` or "%s" is null`, c)
		if !slices.Contains(demoted, c) {
			first += fmt.Sprintf(` when not coalesce("%s", %d) then '%s'`, c, undecided, c)
		}
	}
	return fmt.Sprintf("select battery, controller, motor, n, ifnull(gear, ''), ifnull(small, ''), ifnull(large, ''), wheel, %s else '' end, %s from judged;\n", first, unknown)
}

// sqlRow is what SQLite says of one combination.
type sqlRow struct {
	build   string // the ids
	first   string // the first check that rejects it, "" for none
	unknown bool
}

// sqlite runs a script and returns the cells of its rows.
func sqlite(t *testing.T, script string) [][]string {
	t.Helper()
	cmd := exec.Command("sqlite3", "-bail", "-batch", "-list", ":memory:")
	cmd.Stdin = strings.NewReader(script)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("sqlite3: %v\n%s", err, stderr.String())
	}
	var rows [][]string
	for line := range strings.Lines(string(out)) {
		rows = append(rows, strings.Split(strings.TrimSuffix(line, "\n"), "|"))
	}
	return rows
}

// sqlRows runs a script that ends with sqlReport.
func sqlRows(t *testing.T, script string) []sqlRow {
	t.Helper()
	var rows []sqlRow
	for _, cells := range sqlite(t, script) {
		last := len(cells) - 2
		rows = append(rows, sqlRow{strings.Join(cells[:last], " "), cells[last], cells[last+1] == "1"})
	}
	return rows
}

// needSQLite leaves a test out where there is no sqlite3, or one without functions.
func needSQLite(t *testing.T) {
	t.Helper()
	if _, err := exec.LookPath("sqlite3"); err != nil {
		t.Skip("no sqlite3 program on the PATH: SQLite was not asked")
	}
	if err := exec.Command("sqlite3", ":memory:", "select sqrt(pow(2, 2))").Run(); err != nil {
		t.Skip("this sqlite3 has no sqrt() and pow(): SQLite was not asked")
	}
}

// sqlTables writes the parts of a catalog as they are: one table for each
// kind with its keys as columns, lists in tables of their own.
func sqlTables(c *catalog.Catalog) string {
	var s strings.Builder
	s.WriteString("create table hub (part, name); create table fits (part, what, other);\n")
	for _, kind := range catalog.Kinds() {
		if !slices.Contains([]string{"motor", "controller", "cell", "battery", "pulley", "gear_drive", "wheel"}, kind.Name) {
			continue
		}
		var columns []string
		for _, f := range kind.Fields {
			columns = append(columns, f.Key)
		}
		fmt.Fprintf(&s, "create table %s (%s);\n", kind.Name, strings.Join(columns, ", "))
		for name, part := range c.Parts() {
			if name != kind.Name {
				continue
			}
			var cells []string
			for key, value := range c.Values(kind.Name, part.ID) {
				list, ok := value.([]string)
				if !ok {
					if x, ok := value.(float64); ok && key.Whole {
						value = int(x) // divides as a whole number
					}
					cells = append(cells, sqlValue(value))
					continue
				}
				cells = append(cells, "null")
				for _, item := range list {
					if what, ok := strings.CutPrefix(key.Key, "fits_"); ok {
						fmt.Fprintf(&s, "insert into fits values (%s, %s, %s);\n", sqlValue(part.ID), sqlValue(strings.TrimSuffix(what, "s")), sqlValue(item))
					} else {
						fmt.Fprintf(&s, "insert into hub values (%s, %s);\n", sqlValue(part.ID), sqlValue(item))
					}
				}
			}
			fmt.Fprintf(&s, "insert into %s values (%s);\n", kind.Name, strings.Join(cells, ", "))
		}
	}
	return s.String()
}

// sqlValue writes a value of a part or brief.
func sqlValue(value any) string {
	switch v := value.(type) {
	case string:
		return "'" + strings.ReplaceAll(v, "'", "''") + "'"
	case bool:
		if v {
			return "1"
		}
		return "0"
	case int:
		return strconv.Itoa(v)
	case float64:
		return field.FormatNumber(v) + "e0" // never a whole number to SQL
	}
	return "null"
}

// sqlWorld is what the model knows beside parts and brief: surfaces, tooth
// profiles (ISO 13050, DIN 7721), the air by posture.
const sqlWorld = `
create table surface (name, grip, urethane, rubber, pneumatic);
insert into surface values ('asphalt', 0.8, 0.018, 0.022, 0.020), ('rough', 0.6, 0.03, 0.03, 0.026),
  ('gravel', 0.5, 0.08, 0.045, 0.035), ('grass', 0.4, 0.12, 0.08, 0.08);
create table tooth (id, pitch, line);
insert into tooth values ('htd-5m', 0.005, 0.0005715), ('gt-5', 0.005, 0.0005715), ('gt-3', 0.003, 0.000381), ('t5', 0.005, 0.00042);
create table posture (name, area);
insert into posture values ('sideways', 0.5), ('forward', 0.65), ('tuck', 0.35);
`

// sqlBrief draws a brief: its keys with their defaults, what it sets of them,
// and the motor counts.
func sqlBrief(r *rand.Rand) (text, tables string, demoted []string) {
	rows := []struct {
		section, key, column string
		byDefault            any
		odds                 float64
		draw                 []any
	}{
		{"rider", "mass_kg", "rider_kg", 80, 0.5, []any{60, 95.5}},
		{"rider", "posture", "", "sideways", 0.4, []any{"forward", "tuck"}},
		{"rider", "drag_area_m2", "", nil, 0.3, []any{0.4, 0.7}},
		{"board", "mass_kg", "board_kg", 5, 0.3, []any{0, 7.5}},
		{"board", "rear_share", "", 0.6, 0.3, []any{0.3, 0.8}},
		{"board", "lean", "", 0.2, 0.3, []any{0, 0.35}},
		{"board", "axle_min", "", 0.1, 0.3, []any{0, 0.25}},
		{"board", "wheelbase_mm", "", 850, 0.3, []any{600, 1100}},
		{"board", "centre_height_mm", "", 950, 0.3, []any{500, 1300}},
		{"board", "hanger_mm", "", nil, 0.4, []any{110, 148, 168}},
		{"board", "sensored", "asked_sensored", nil, 0.4, []any{true, false}},
		{"ground", "surface", "", "asphalt", 0.6, []any{"rough", "gravel", "grass"}},
		{"ground", "rolling_resistance", "", nil, 0.2, []any{0.015, 0.03}},
		{"ground", "altitude_m", "", nil, 0.3, []any{-100, 1200, 3000}},
		{"ground", "temperature_c", "", nil, 0.3, []any{-10, 30}},
		{"ground", "grip", "", nil, 0.3, []any{0.15, 0.3}},
		{"ground", "wet", "", nil, 0.2, []any{true, false}},
		{"target", "top_speed_kmh", "", nil, 0.6, []any{12, 25, 32, 40}},
		{"target", "top_speed_max_kmh", "", nil, 0.4, []any{41, 60}},
		{"target", "climb_grade_pct", "", nil, 0.6, []any{0, 5, 12, 20}},
		{"target", "climb_speed_kmh", "", 12, 0.4, []any{8, 20}},
		{"target", "hill_torque_nm", "", nil, 0.4, []any{5, 12, 25}},
		{"target", "range_km", "", nil, 0.6, []any{3, 6, 12}},
		{"target", "cruise_kmh", "", 25, 0.5, []any{15, 20, 30}},
		{"target", "charge", "", "nominal", 0.5, []any{3.1, 3.4, "full"}},
		{"limit", "erpm_ceiling", "", nil, 0.4, []any{50000, 90000}},
		{"limit", "erpm_headroom_pct", "", 5, 0.3, []any{0, 10}},
		{"limit", "erpm_rule", "", "free-spin", 0.4, []any{"at-speed"}},
		{"limit", "price", "price_limit", nil, 0.4, []any{500, 900}},
		{"limit", "mass_kg", "mass_limit", nil, 0.4, []any{9, 12}},
		{"limit", "ground_clearance_mm", "", 12, 0.3, []any{0, 20}},
		{"limit", "heat_factor", "", 1, 0.3, []any{1.5}},
		{"limit", "winding_c", "", 60, 0.3, []any{20, 90}},
		{"limit", "usable_pct", "", 90, 0.2, []any{80}},
		{"limit", "ride_factor", "", 1, 0.2, []any{1.5}},
		{"limit", "derate", "", 0.85, 0.2, []any{0.8}},
		{"ride", "stops_per_km", "", 2, 0.5, []any{0, 8}},
		{"ride", "ascent_m_per_km", "", 0, 0.3, []any{15}},
		{"ride", "wind_kmh", "", 0, 0.4, []any{10, 30}},
		{"ride", "regen_pct", "", 40, 0.3, []any{0, 80}},
	}
	values := map[string]any{}
	section, columns, cells := "", []string{}, []string{}
	text = "schema = 1\n"
	for _, row := range rows {
		if section != row.section {
			section = row.section
			text += "[" + section + "]\n"
			switch section {
			case "board":
				values["motors"] = [][]int{{1}, {2}, {2}, {1, 2}, {2, 4}}[r.IntN(5)]
				text += "motors = " + strings.ReplaceAll(fmt.Sprint(values["motors"]), " ", ", ") + "\n"
			case "limit":
				// Half of the bores of a random catalog do not fit, and nothing else of
				// such builds would be seen.
				demoted = [][]string{nil, {"bore"}, {"bore"}, {"bore", "hub"}, {sqlChecks[r.IntN(len(sqlChecks))]}}[r.IntN(5)]
				if demoted != nil {
					text += "demote = [\"" + strings.Join(demoted, `", "`) + "\"]\n"
				}
			}
		}
		value := row.byDefault
		if r.Float64() < row.odds && (row.key != "erpm_rule" || values["top_speed_kmh"] != nil) && (row.key != "wet" || values["grip"] == nil) {
			value = row.draw[r.IntN(len(row.draw))]
			quoted := fmt.Sprint(value)
			if s, ok := value.(string); ok {
				quoted = strconv.Quote(s)
			}
			text += row.key + " = " + quoted + "\n"
		}
		values[row.key] = value
		name := row.column
		if name == "" {
			name = row.key
		}
		columns, cells = append(columns, name), append(cells, sqlValue(value))
	}
	tables = fmt.Sprintf("create table asked (%s);\ninsert into asked values (%s);\n", strings.Join(columns, ", "), strings.Join(cells, ", "))
	// ISO 2533; the temperature alone means sea level.
	tables += `create table brief as select *, case when altitude_m is null and temperature_c is null then 1.225 else
  101325 * pow(1 - 2.25577e-5 * coalesce(altitude_m, 0), 5.25588) / 287.05287
    / coalesce(temperature_c + 273.15, 288.15 - 0.0065 * coalesce(altitude_m, 0)) end as density,
  -- At −10 °C: less of the charge, more resistance, and nothing comes back.
  case temperature_c when -10 then 2.2 else 1 end as icy, case temperature_c when -10 then 0.75 else 1 end as thrifty,
  regen_pct / 100.0 * iif(temperature_c < 0, 0, 1) as back from asked;
create table counts as select column1 as count from (values (1), (2), (4)) where column1 in (` +
		strings.Trim(strings.ReplaceAll(fmt.Sprint(values["motors"]), " ", ", "), "[]") + ");\n"
	return text, tables, demoted
}

// sqlName is a build's ids as sqlReport writes them.
func sqlName(b *constraints.Build) string {
	ids := b.File().IDs
	return strings.Join([]string{
		ids[constraints.SlotBattery], ids[constraints.SlotController], ids[constraints.SlotMotor], strconv.Itoa(b.Motors()),
		ids[constraints.SlotGearDrive], ids[constraints.SlotMotorPulley], ids[constraints.SlotWheelPulley], ids[constraints.SlotWheel],
	}, " ")
}

// TestSQLiteAgrees: SQLite finds the same feasible builds, rejects the others
// under the same checks, and finds the same of them undecided.
func TestSQLiteAgrees(t *testing.T) {
	needSQLite(t)
	small := randcat.Small()
	small.Belts, small.Mounts = 0, 0
	shop := randcat.Market{Motors: 4, Controllers: 3, Batteries: 3, MotorPulleys: 2, WheelPulleys: 4, Gears: 3, Wheels: 4}

	feasible, flat, rejected := uint64(0), 0, map[string]uint64{}
	for seed, asked := uint64(0), 0; asked < sqlCatalogs; seed++ {
		r := rand.New(rand.NewPCG(seed, 3))
		text := randcat.Catalog(r, small)
		if seed%2 == 1 {
			text = shop.Catalog(r)
		}
		brief, tables, demoted := sqlBrief(r)
		p, err := sqlProblem(text, brief)
		if err != nil {
			continue // a charge below every cut-off
		}
		if len(p.Catalog.Sprockets) > 0 {
			continue // the model in SQL has pulleys alone
		}
		asked++
		flat += len(p.Flat)
		undecided, strict := 1, seed%5 == 4
		if strict {
			undecided = 0
		}
		rows := sqlRows(t, sqlTables(p.Catalog)+sqlWorld+tables+sqlPacks+sqlModel+sqlVerdicts+sqlJudged()+sqlReport(demoted, undecided))
		want := Tally{Rejected: make([]uint64, len(p.Checks()))}
		var wantBuilds []string
		for _, row := range rows {
			want.Combinations++
			if row.first != "" {
				want.Rejected[slices.IndexFunc(p.Checks(), func(c *constraints.Check) bool { return c.Name == row.first })]++
				rejected[row.first]++
				continue
			}
			want.Feasible++
			if row.unknown {
				want.Unknown++
			}
			wantBuilds = append(wantBuilds, row.build)
		}
		feasible += want.Feasible

		got, err := Rank(t.Context(), p, Options{Strict: strict})
		if err != nil {
			t.Fatal(err)
		}
		var builds []string
		for b := range got.Builds() {
			builds = append(builds, sqlName(b.Build))
		}
		slices.Sort(builds)
		slices.Sort(wantBuilds)
		if d := cmp.Diff(wantBuilds, builds); d != "" {
			t.Errorf("seed %d: feasible builds differ (-SQLite +search):\n%s\n%s", seed, d, brief)
		}
		if d := cmp.Diff(want, got.Tally); d != "" {
			t.Errorf("seed %d: counts differ (-SQLite +search):\n%s\n%s", seed, d, brief)
		}
	}
	t.Logf("%d feasible builds, %d flat packs, rejected: %v", feasible, flat, rejected)
	if flat == 0 {
		t.Error("no pack is flat: the test does not test it")
	}
	if feasible < 400 {
		t.Errorf("%d feasible builds in all: the test does not test", feasible)
	}
	for _, c := range sqlChecks {
		belts := c == "belt" || c == "mesh" || c == "belt-load"
		if few := c == "gear-torque"; !belts && !few && rejected[c] == 0 { // which few catalogs get to
			t.Errorf("%s rejects nothing in all: the test does not test it", c)
		}
	}
}

// TestSQLitePacks: the resistance of packs in the model is that of the formula, in either
// corner, and the search's. A number of cells in series that the number in parallel does
// not divide is not rounded.
func TestSQLitePacks(t *testing.T) {
	needSQLite(t)
	for _, c := range []struct {
		why, cell, battery string
		worst, best        float64 // ohm
	}{
		{
			"nothing known of the cells, and 9 in series by 4", "", "series = 9\nparallel = 4\ncell = \"c\"\nwiring_mohm = 12",
			9*0.16/3/4 + 0.012, 9*0.02/3/4 + 0.012,
		},
		{
			"cells of iron phosphate", "chemistry = \"lfp\"", "series = 10\nparallel = 3\ncell = \"c\"",
			10 * 0.12 / 3 / 3, 10 * 0.015 / 3 / 3,
		},
		{
			"the cells' resistance known", "resistance_mohm = 25", "series = 9\nparallel = 4\ncell = \"c\"",
			0.05625, 0.05625,
		},
		{
			"a pack without cells", "", "series = 7\nnominal_v = 25.9\nfull_v = 29.4\ncapacity_ah = 5",
			7 * 0.10 / 5, 7 * 0.008 / 5,
		},
	} {
		text := "schema = 1\n[[motor]]\nid = \"m\"\nkv = 150\n[[controller]]\nid = \"e\"\n[[gear_drive]]\nid = \"g\"\nratio = 3\n[[wheel]]\nid = \"w\"\ndiameter_mm = 97\n" +
			"[[cell]]\nid = \"c\"\nnominal_v = 3.6\nfull_v = 4.2\ncutoff_v = 3\ncapacity_ah = 3\n" + c.cell + "\n[[battery]]\nid = \"b\"\n" + c.battery + "\n"
		p, err := sqlProblem(text, "schema = 1\n[target]\ntop_speed_kmh = 25\n")
		if err != nil {
			t.Fatalf("%s: %v", c.why, err)
		}
		pack := p.Batteries[0]
		got := []float64{pack.Pack.Resistance, pack.Best.Resistance}
		script := sqlTables(p.Catalog) + "create table counts (count); create table brief as select 'nominal' as charge, 1 as icy;\n" + sqlPacks + "select ohms from packs order by corner desc;\n"
		for i, row := range sqlite(t, script) {
			ohms, err := strconv.ParseFloat(row[0], 64)
			if want := []float64{c.worst, c.best}[i]; err != nil || math.Abs(ohms-want) > 1e-12 || math.Abs(got[i]-want) > 1e-12 {
				t.Errorf("%s: %s ohm in SQL, %v in the search, want %v", c.why, row[0], got[i], want)
			}
		}
	}
}

// sqlCatalogs is how many random catalogs SQLite is asked about.
const sqlCatalogs = 60

func sqlProblem(catalogText, briefText string) (*constraints.Problem, error) {
	c, err := catalog.Read(field.Source{Name: "catalog.toml", Data: []byte(catalogText)})
	if err != nil {
		return nil, err
	}
	b, err := constraints.ReadBrief(field.Source{Name: "brief.toml", Data: []byte(briefText)})
	if err != nil {
		return nil, err
	}
	return constraints.NewProblem(c, b)
}
