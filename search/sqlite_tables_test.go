package search

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
)

// sqlTables writes the parts of a catalog as they are: one table for each
// kind with its keys as columns, lists in tables of their own.
func sqlTables(c *catalog.Catalog) string {
	var s strings.Builder
	s.WriteString("create table hub (part, name); create table fits (part, what, other);\n")
	for _, kind := range catalog.Kinds() {
		if !slices.Contains([]string{"motor", "controller", "cell", "battery", "pulley", "sprocket", "belt", "chain", "mount", "gear_drive", "wheel"}, kind.Name) {
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
// profiles (ISO 13050, DIN 7721), chains (ISO 606), the air by posture.
const sqlWorld = `
create table surface (name, grip, urethane, rubber, pneumatic);
insert into surface values ('asphalt', 0.8, 0.018, 0.022, 0.020), ('rough', 0.6, 0.03, 0.03, 0.026),
  ('gravel', 0.5, 0.08, 0.045, 0.035), ('grass', 0.4, 0.12, 0.08, 0.08);
create table tooth (id, pitch, line, pull, roller, plate, breaking);
insert into tooth values ('htd-5m', 0.005, 0.0005715, 17870, null, null, null), ('gt-5', 0.005, 0.0005715, 28030, null, null, null), ('gt-3', 0.003, 0.000381, 19960, null, null, null), ('t5', 0.005, 0.00042, null, null, null, null),
  ('chain-05b', 0.008, null, null, 0.005, 0.00711, 4400), ('chain-06c', 0.009525, null, null, 0.00508, 0.00905, 7900);
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
		{"limit", "mesh_teeth", "", 5, 0.3, []any{3, 6}},
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
				// such builds would be seen; nor would the last checks behind all others.
				before := sqlChecks[:r.IntN(len(sqlChecks))]
				demoted = [][]string{nil, {"bore"}, {"bore", "hub"}, {sqlChecks[r.IntN(len(sqlChecks))]}, before, before}[r.IntN(6)]
				if len(demoted) > 0 {
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
