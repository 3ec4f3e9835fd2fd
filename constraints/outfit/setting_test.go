package outfit

import "testing"

// By hand, for the kit: 70 A of the controller below the motor's 80; 30 A out of the
// pack for each motor, of which it bears 35; 2 × 4 A into it for two; 10 × 3 V when
// it is empty, and at a tenth 0.787 × 42 V.
func TestSettings(t *testing.T) {
	type want struct {
		value float64
		by    string
	}
	for _, tt := range []struct {
		why    string
		change []string
		brief  string
		name   string
		want
	}{
		{"the controller's", nil, "", "motor_current_a", want{70, "controller"}},
		{"the motor's", []string{"motor.peak_current_a = 60"}, "", "motor_current_a", want{60, "motor"}},
		{"only the motor's known", []string{"-controller.motor_current_a"}, "", "motor_current_a", want{80, "motor"}},
		{"neither", []string{"-controller.motor_current_a", "-motor.peak_current_a"}, "", "motor_current_a", want{nan, ""}},
		{"brakes as it drives", []string{"motor.peak_current_a = 30"}, "", "braking_current_a", want{30, "motor"}},
		{"the wheels hold 0.329391 × 833.565 N, 1 A of both motors 7.95775 N", nil, "", "braking_current_a", want{34.5033763479, "ground.surface"}},
		{"on ice", nil, "[ground]\ngrip = 0.05\n", "braking_current_a", want{3.86841475767, "ground.grip"}},
		{"of the controller", nil, "", "pack_current_out_a", want{30, "controller"}},
		{"of the cells: 2 × 25 A for two", []string{"cell.discharge_a = 25"}, "", "pack_current_out_a", want{25, "cell"}},
		{"of the pack's own", []string{"battery.discharge_a = 41"}, "", "pack_current_out_a", want{20.5, "battery"}},
		{"nothing known", []string{"-cell.discharge_a", "-controller.battery_current_a"}, "", "pack_current_out_a", want{nan, ""}},
		{"of the cells", nil, "", "pack_current_in_a", want{4, "cell"}},
		{"in the frost nothing", nil, "[ground]\ntemperature_c = 0\n", "pack_current_in_a", want{0, "ground.temperature_c"}},
		{"in the frost nothing, limit or not", []string{"-cell.charge_a"}, "[ground]\ntemperature_c = -3\n", "pack_current_in_a", want{0, "ground.temperature_c"}},
		{"half of it at 2.5 °C", nil, "[ground]\ntemperature_c = 2.5\n", "pack_current_in_a", want{2, "cell"}},
		{"the volts of a full pack: 1.47 V over 0.2 Ω, for two", []string{"battery.wiring_mohm = 100"}, "", "pack_current_in_a", want{3.675, "battery"}},
		{"of the pack", []string{"battery.charge_a = 6"}, "", "pack_current_in_a", want{3, "battery"}},
		{"charge limit not known", []string{"-cell.charge_a"}, "", "pack_current_in_a", want{nan, ""}},
		{"a tenth left", nil, "", "cut_back_start_v", want{33.054, "limit.usable_pct"}},
		{"all of it used", nil, "usable_pct = 100\n", "cut_back_start_v", want{30, "limit.usable_pct"}},
		{"empty", nil, "", "cut_back_end_v", want{30, "cell"}},
		{"the pack's own", []string{"-battery", "[[battery]]\nid = \"battery\"\nseries = 10\nnominal_v = 36\nfull_v = 42\ncutoff_v = 32"}, "", "cut_back_end_v", want{32, "battery"}},
		{"the controller's ceiling", nil, "", "erpm_limit", want{150000, "controller"}},
		{"the brief's", nil, "erpm_ceiling = 90000\n", "erpm_limit", want{90000, "limit.erpm_ceiling"}},
		{"no ceiling", []string{"-controller.erpm_ceiling"}, "", "erpm_limit", want{nan, ""}},
		{"given", []string{"controller.max_duty = 0.9"}, "", "duty_limit", want{0.9, "controller"}},
		{"assumed", []string{"-controller.max_duty"}, "", "duty_limit", want{0.95, "assumed"}},
	} {
		found := false
		for _, s := range Settings(build(t, tt.brief, tt.change...)) {
			if len(s.How) == 0 || s.Source == "" {
				t.Errorf("%s: setting %+v", tt.why, s)
			}
			if s.Name != tt.name {
				continue
			}
			found = true
			near(t, tt.why, s.Value, tt.value, 1e-9)
			if s.By != tt.by {
				t.Errorf("%s: set by %q, want %q", tt.why, s.By, tt.by)
			}
		}
		if !found {
			t.Errorf("%s: no setting %s", tt.why, tt.name)
		}
	}
	// A pack of which nobody says when it is empty.
	b := build(t, hill, "-battery", "[[battery]]\nid = \"battery\"\nseries = 10\nnominal_v = 36\nfull_v = 42\nprice = 300")
	for _, s := range Settings(b)[4:6] {
		near(t, s.Name, s.Value, nan, 0)
		if briefly(s.How...) != "no-cutoff" {
			t.Errorf("%s: %s", s.Name, briefly(s.How...))
		}
	}
}
