package search

import (
	"fmt"
	"slices"
	"strings"
)

// SQLite decides the same question in its own way: the parts as they are
// written go into tables, and one query, made from the model and not from the
// program, joins them all and judges each combination. What is not known is
// NULL, and SQL's three-valued logic carries it: a check is true, false or
// NULL. Speeds are decided without solving for them: the top speed is at
// least v where the thrust at v is at least the load, since thrust falls with
// speed and load rises. Each combination stands twice, once for either corner of
// what is not known, and the two are put together at the end. The launch has no closed
// form, and briefs here ask for none. The centre distance of a belt has none either: it is
// cut in half sixty times.

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

// sqlBelts makes views of what turns belts and chains, and tables of the centre distance
// of each belt or chain round each pair, and of the one that each pair wears in each mount.
const sqlBelts = `
-- Pulleys and sprockets: their pitch diameter, that over the teeth, and the radius with the belt or chain.
create view turner as
  select p.*, iif(f.roller is null, f.teeth_over, 1.25 * f.pitch - f.roller) + p.diameter as tips,
    iif(f.roller is null, (p.diameter - 2 * f.line) / 2 + 0.002, (p.diameter + f.plate) / 2) as over
  from (
    select p.*, iif(f.roller is null, p.teeth * f.pitch / 3.14159265358979324, f.pitch / sin(3.14159265358979324 / p.teeth)) as diameter from (
      select id, price, sold_in, mass_g, owned, side, profile, teeth, width_mm, bore_mm, shaft_key from pulley union all
      select id, price, sold_in, mass_g, owned, side, profile, teeth, null, bore_mm, shaft_key from sprocket) p join tooth f on f.id = p.profile
  ) p join (select *, coalesce(-2 * line, 0) as teeth_over from tooth) f on f.id = p.profile;

-- Belts and chains: of a chain the links stand for teeth.
create view loop as
  select id, price, sold_in, mass_g, owned, profile, teeth, width_mm / 1000.0 as width, null as breaking from belt union all
  select c.id, price, sold_in, mass_g, owned, profile, links, null, coalesce(breaking_n, f.breaking) from chain c join tooth f on f.id = c.profile;

create table taut as
with recursive pairs as (
  select s.id as small, l.id as large, o.id as belt, f.pitch, f.roller, s.teeth as a, l.teeth as b, (s.tips + l.tips) / 2 as nearest,
    o.teeth * f.pitch - 3.14159265358979324 / 2 * (s.diameter + l.diameter) as free, abs(l.diameter - s.diameter) / 2 as half,
    o.teeth - (s.teeth + l.teeth) / 2.0 as links, pow((l.teeth - s.teeth) / (2 * 3.14159265358979324), 2) as wrap
  from turner s join turner l on s.side = 'motor' and l.side = 'wheel' and l.profile = s.profile join loop o on o.profile = s.profile join tooth f on f.id = s.profile
), halved as (
  -- 2√(C² − half²) + 2 half asin(half/C), which rises with C, is what is free: from the circles inside one another to far apart.
  select small, large, belt, nearest, free, half, (half + free) / 2 as centre, (free - half) / 2 as stride, 0 as step from pairs where roller is null and free > 3.14159265358979324 * half * (1 + 1e-9)
  union all
  select small, large, belt, nearest, free, half, centre + iif(2 * sqrt(centre * centre - half * half) + 2 * half * asin(half / centre) > free, -1, 1) * stride / 2, stride / 2, step + 1 from halved where step < 60
)
select small, large, belt, centre from (
  select small, large, belt, nearest, centre from halved where step = 60 union all
  -- X = 2C + (a + b)/2 + ((b − a)/2π)²/C, in pitches.
  select small, large, belt, nearest, (links + sqrt(links * links - 8 * wrap)) / 4 * pitch from pairs
    where roller is not null and links > 0 and links * links >= 8 * wrap
      and (links + sqrt(links * links - 8 * wrap)) / 4 > abs(1 / sin(3.14159265358979324 / a) - 1 / sin(3.14159265358979324 / b)) / 2
) where centre >= nearest * (1 - 1e-9);

-- The belt that is worn: the widest, of chains the one that bears most, nearest to the middle of the mount, of those alike one with a price, the lower id.
create table worn as
with face as (
  select t.*, m.id as mount, coalesce(o.width, o.breaking, 0) as strength, o.teeth, o.price is not null or coalesce(o.owned, 0) as priced, abs(centre - (centre_min_mm + centre_max_mm) / 2000.0) as off,
    floor(min(s.teeth, l.teeth) * (3.14159265358979324 - 2 * asin(abs(l.diameter - s.diameter) / (2 * centre))) / (2 * 3.14159265358979324) + 1e-9) as mesh
  from taut t join turner s on s.id = t.small join turner l on l.id = t.large join loop o on o.id = t.belt
    join mount m on centre >= centre_min_mm / 1000.0 * (1 - 1e-9) and centre <= centre_max_mm / 1000.0 * (1 + 1e-9)
  where coalesce(o.width * 1000 <= coalesce(min(s.width_mm, l.width_mm), s.width_mm, l.width_mm) * (1 + 1e-9), 1) and (o.breaking is null or o.teeth % 2 = 0)
)
select small, large, mount, belt, centre, mesh from face x where not exists (
  select 1 from face y where y.small = x.small and y.large = x.large and y.mount = x.mount and (y.strength > x.strength * (1 + 1e-9)
    or y.strength >= x.strength * (1 - 1e-9) and (y.off < x.off - 1e-10 or y.off <= x.off + 1e-10 and
      iif(y.teeth = x.teeth and y.strength = x.strength, x.priced < y.priced or x.priced = y.priced and y.belt < x.belt, y.belt < x.belt))));
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
    union all select p.id, k.count, k.count, owned, sold_in, price, mass_g from turner p, counts k
    union all select l.id, k.count, k.count, owned, sold_in, price, mass_g from loop l, counts k
    union all select m.id, k.count, k.count, owned, sold_in, price, mass_g from mount m, counts k
    union all select g.id, k.count, k.count, owned, sold_in, price, mass_g from gear_drive g, counts k
    union all select w.id, k.count, 4, owned, sold_in, price, mass_g from wheel w, counts k
  ) p on p.count = n.count;

create view drives as
  select null as gear, s.id as small, l.id as large, m.id as mount, o.id as belt, l.teeth * 1.0 / s.teeth as ratio, iif(f.roller is null, 0.96, 0.97) as eta,
    l.over as outside, s.bore_mm as bore, s.shaft_key as key, 0 as in_wheel, null as torque, s.profile = l.profile as profile, l.id as hubs,
    0 as lists_motors, 0 as lists_wheels, coalesce(x.centre, m.centre_min_mm / 1000.0) as centre, m.angle_deg * 3.14159265358979324 / 180 as angle,
    iif(m.id is null or not exists (select 1 from loop), null, o.id is not null) as belted, x.mesh, coalesce(m.idler, 0) as idler,
    s.diameter / 2 as arm, iif(f.roller is null, f.pull * o.width * max(0.2, min(1, 0.2 * (x.mesh - 1))), o.breaking / 8.0) as bears, f.roller is not null as chained
  from turner s join turner l on s.side = 'motor' and l.side = 'wheel' join tooth f on f.id = s.profile
    left join mount m on 1 left join worn x on x.small = s.id and x.large = l.id and x.mount = m.id left join loop o on o.id = x.belt
  union all
  select id, null, null, null, null, coalesce(ratio, driven_teeth * 1.0 / driver_teeth), coalesce(efficiency, case when in_wheel then 1 else 0.97 end), outside_mm / 2000.0,
    bore_mm, shaft_key, coalesce(in_wheel, 0), max_torque_nm, null, id,
    exists (select 1 from fits where part = id and what = 'motor'), exists (select 1 from fits where part = id and what = 'wheel'),
    centre_mm / 1000.0, angle_deg * 3.14159265358979324 / 180, null, null, null, null, null, null
  from gear_drive;

create view rolling as
  select w.id, w.diameter_mm / 2000.0 * coalesce(w.rolling_radius_ratio, case w.tyre when 'pneumatic' then 0.97 else 1 end) as r,
    coalesce(q.rolling_resistance, w.rolling_resistance,
      case w.tyre when 'pneumatic' then s.pneumatic when 'rubber' then s.rubber else s.urethane end) as crr
  from wheel w, brief q join surface s on s.name = q.surface;

-- One row for each combination, with all that its checks read.
create table builds as
  select b.corner, b.id as battery, c.id as controller, m.id as motor, n.count as n, d.gear, d.small, d.large, d.mount, d.belt, w.id as wheel,
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
      + coalesce(cl.mass, 0) + coalesce(cb.mass, 0) + coalesce(co.mass, 0) + coalesce(cg.mass, 0) + coalesce(cw.mass, 0) as kg,
    b.mass + cc.mass + cm.mass + iif(d.gear is null, cs.mass + cl.mass + iif(d.belt is null, 0, cb.mass) + iif(d.mount is null, 0, co.mass), cg.mass) + cw.mass is null as mass_missing,
    coalesce(b.price, 0) + coalesce(cc.price, 0) + coalesce(cm.price, 0) + coalesce(cs.price, 0) + coalesce(cl.price, 0)
      + coalesce(cb.price, 0) + coalesce(co.price, 0) + coalesce(cg.price, 0) + coalesce(cw.price, 0) as cost,
    b.price + cc.price + cm.price + iif(d.gear is null, cs.price + cl.price + iif(d.belt is null, 0, cb.price) + iif(d.mount is null, 0, co.price), cg.price) + cw.price is null as price_missing,
    coalesce(q.grip, s.grip * iif(q.wet, 0.5, 1)) as mu,
    max(0, q.rear_share - q.lean) as fore, min(1, q.rear_share + q.lean) as aft, q.axle_min as least, q.centre_height_mm * 1.0 / q.wheelbase_mm as tall,
    -- With a full pack, for the greatest speed.
    min(coalesce(n.count * c.battery_current_a, 1e9), coalesce(b.discharge, 1e9),
      coalesce((b.full - b.cutoff) / nullif(b.ohms, 0), 1e9), coalesce(b.full / (2 * nullif(b.ohms, 0)), 1e9)) as pack_full,
    min(coalesce(c.erpm_ceiling, q.erpm_ceiling), coalesce(q.erpm_ceiling, c.erpm_ceiling)) as ceiling,
    min(coalesce(c.max_volts, m.max_volts), coalesce(m.max_volts, c.max_volts)) as most_volts,
    m.continuous_current_a as heat, coalesce(c.continuous_current_a, 1e9) as heat_too,
    m.shaft_mm as shaft, m.shaft_key as shaft_key, m.can_length_mm as can, m.can_diameter_mm / 2000.0 as half, m.sensored, d.centre, d.angle, d.bore, d.key, d.in_wheel, d.torque, d.outside,
    d.profile, d.hubs, d.lists_motors, d.lists_wheels, d.belted, d.mesh, d.idler, d.arm, d.bears, d.chained
  from packs b, controller c, motors m, counts n, drives d, rolling w, brief q
    join surface s on s.name = q.surface and m.corner = b.corner
    join costs cc on cc.id = c.id and cc.n = n.count
    join costs cm on cm.id = m.id and cm.n = n.count
    join costs cw on cw.id = w.id and cw.n = n.count
    left join costs cs on cs.id = d.small and cs.n = n.count
    left join costs cl on cl.id = d.large and cl.n = n.count
    left join costs cb on cb.id = d.belt and cb.n = n.count
    left join costs co on co.id = d.mount and co.n = n.count
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
select corner, guessed, battery, controller, motor, n, gear, small, large, mount, belt as chosen, wheel,
  iif(lists_motors, exists (select 1 from fits where part = gear and what = 'motor' and other = motor),
    abs(shaft - bore) <= 1e-9 * bore and iif(key in ('flat', 'keyway'), key = shaft_key, 1)) as bore,
  coalesce(not asked_sensored, 1) or sensored as sensor,
  coalesce(profile, 1) as profile,
  iif(lists_wheels, exists (select 1 from fits where part = gear and what = 'wheel' and other = wheel),
    iif(exists (select 1 from hub where part = hubs) and exists (select 1 from hub where part = wheel),
      exists (select 1 from hub a join hub b on a.name = b.name where a.part = hubs and b.part = wheel), null)) as hub,
  iif(gear is null, belted, 1) as belt,
  -- An idler adds wrap that is not counted.
  case when gear is not null or mesh >= mesh_teeth * (1 - 1e-9) then 1 when mesh is not null and not idler then 0 end as mesh,
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
  case when climb_grade_pct is null or gear is not null or need * r / (n * eta * ratio * arm) <= bears * (1 + 1e-9) then 1
    when bears is not null and (chained or not idler) then 0 end as "belt-load",
  iif(climb_grade_pct is null or gear is null, 1, need * r / n <= torque * (1 + 1e-9)) as "gear-torque",
  iif(range_km is null, 1, iif(not outruns or wind_kmh > 0 and not coalesce(min(gust_thrust, grip_flat) >= gust_load * (1 - 1e-9), 1), 0, iif(ohm is null, null, iif(min(spare, with_spare, up_spare) < 0, 0,
    capacity * nominal * usable_pct / 100 * thrifty * 3.6
      / (((cells + with_cells) / 2 / (cruise_kmh / 3.6) + iif(kept > 0, kept * (up_cells / (up_load * cruise_kmh / 7.2) - back * iif(barred, 0, 1)), 0)) * ride_factor)
      >= range_km * (1 - 1e-9) and outruns)))) as range
from given;
create index corner on cornered (corner, battery, controller, motor, n, gear, small, large, mount, wheel);
`

// sqlJudged puts the corners together: a check fails where the better one fails,
// passes where the worse passes, and is NULL between. A board that is too fast is
// so in the worse, if that can be told; where an estimate decides, it is both.
func sqlJudged() string {
	var s strings.Builder
	s.WriteString("create table judged as select w.battery, w.controller, w.motor, w.n, w.gear, w.small, w.large, w.mount, w.chosen, w.wheel")
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
  and b.gear is w.gear and b.small is w.small and b.large is w.large and b.mount is w.mount and b.wheel = w.wheel
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
	return fmt.Sprintf("select battery, controller, motor, n, ifnull(gear, ''), ifnull(small, ''), ifnull(large, ''), ifnull(mount, ''), ifnull(chosen, ''), wheel, %s else '' end, %s from judged;\n", first, unknown)
}
