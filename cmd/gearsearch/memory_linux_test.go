package main

import (
	"bytes"
	"flag"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"gearsearch/cmd/gearsearch/internal/outcome"
)

var allMemory = flag.Bool("memory", false, "measure every command on every hostile catalog, which takes half an hour")

// mostMemory is what a command takes at the most on a catalog of a megabyte.
const mostMemory = 300 << 20

// hostile are catalogs of up to a megabyte that make much of little: long
// families of what is multiplied with one another.
func hostile() map[string]string {
	r := rand.New(rand.NewPCG(1, 10))
	family := func(n int, format string, at func(i int) any) string {
		list := make([]string, n)
		for i := range list {
			list[i] = fmt.Sprintf(format, at(i))
		}
		return "[" + strings.Join(list, ", ") + "]"
	}
	number := func(i int) any { return i }
	between := func(low, high float64) func(int) any {
		return func(int) any { return low + r.Float64()*(high-low) }
	}
	ids := func(name string, n int) string { return "id = " + family(n, `"`+name+`%d"`, number) + "\n" }
	motors := func(n int, more string) string {
		return "[[motor]]\nresistance_mohm = 30\nno_load_current_a = 1\npeak_current_a = 60\ncontinuous_current_a = 40\nmass_g = 500\nprice = 90\n" + more +
			ids("m", n) + "kv = " + family(n, "%.3f", between(60, 260)) + "\n"
	}
	controllers := func(n int) string {
		return "[[controller]]\nchannels = 2\nbattery_current_a = 40\ncontinuous_current_a = 50\nerpm_ceiling = 100000\nmass_g = 200\n" +
			ids("c", n) + "motor_current_a = " + family(n, "%.2f", between(40, 100)) + "\nprice = " + family(n, "%.2f", between(50, 250)) + "\n"
	}
	batteries := func(n int) string {
		return "[[battery]]\nseries = 10\nnominal_v = 36\nfull_v = 42\ncutoff_v = 30\nresistance_mohm = 60\ndischarge_a = 60\nmass_g = 2000\n" +
			ids("b", n) + "capacity_ah = " + family(n, "%.3f", between(5, 25)) + "\nprice = " + family(n, "%.2f", between(100, 500)) + "\n"
	}
	gears := func(n int, bores string) string {
		return "[[gear_drive]]\nhub = \"x\"\nmax_torque_nm = 50\noutside_mm = 60\nmass_g = 300\nprice = 100\n" + bores +
			ids("g", n) + "ratio = " + family(n, "%.4f", between(2, 6)) + "\n"
	}
	wheels := func(n int) string {
		return "[[wheel]]\nhub = \"x\"\ntyre = \"urethane\"\nprice = 60\nmass_g = 300\n" + ids("w", n) + "diameter_mm = " + family(n, "%.3f", between(80, 200)) + "\n"
	}
	pulleys := func(n int, side, more string, low, high float64) string {
		return "[[pulley]]\nside = \"" + side + "\"\nprofile = \"htd-5m\"\nwidth_mm = 15\nprice = 10\nmass_g = 50\n" + more +
			ids(side[:2], n) + "teeth = " + family(n, "%.0f", between(low, high)) + "\n"
	}
	belts := func(n int) string {
		return "[[belt]]\nprofile = \"htd-5m\"\nprice = 10\nmass_g = 20\n" + ids("t", n) + "teeth = " + family(n, "%d", func(i int) any { return 40 + i%200 }) +
			"\nwidth_mm = " + family(n, "%.3f", between(5, 15)) + "\n"
	}
	mounts := func(n int) string {
		return "[[mount]]\n" + ids("o", n) + "centre_min_mm = " + family(n, "%.3f", between(50, 80)) + "\ncentre_max_mm = " + family(n, "%.3f", between(90, 120)) + "\n"
	}
	sizes := func(key string, n int) string {
		return key + " = " + family(n, "%.3f", func(i int) any { return 2 + float64(i)/1000 }) + "\n"
	}
	const shaft, bore = "shaft_mm = 8\n", "bore_mm = 8\n"
	catalogs := map[string][]string{
		"three lists":    {motors(1000, shaft), controllers(1000), batteries(1000), gears(1, bore), wheels(1)},
		"drives":         {motors(1000, shaft), controllers(1), batteries(1), gears(1000, bore), wheels(1000)},
		"largest pairs":  {motors(10, shaft), controllers(1), batteries(1), gears(4000, bore), wheels(1000)},
		"largest drives": {motors(1, shaft), controllers(1), batteries(1), pulleys(630, "motor", bore, 12, 20), pulleys(630, "wheel", "hub = \"x\"\n", 30, 70), mounts(1), belts(100), wheels(10)},
		"with mounts":    {motors(5, shaft), controllers(1), batteries(5), pulleys(62, "motor", bore, 12, 20), pulleys(62, "wheel", "hub = \"x\"\n", 30, 70), mounts(100), belts(30), wheels(5)},
		"many drives":    {motors(1, shaft), controllers(1), batteries(1), pulleys(9000, "motor", bore, 12, 20), pulleys(9000, "wheel", "hub = \"x\"\n", 30, 70), mounts(9000), wheels(1)},
		"many belts":     {motors(1, shaft), controllers(1), batteries(1), pulleys(40, "motor", bore, 12, 20), pulleys(40, "wheel", "hub = \"x\"\n", 30, 70), mounts(1), belts(9999), wheels(1)},
		"all shafts":     {motors(6000, sizes("shaft_mm", 6000)), controllers(1), batteries(1), gears(6000, sizes("bore_mm", 6000)), wheels(100)},
		"all of all":     {motors(1000, shaft), controllers(1000), batteries(1000), gears(1000, bore), wheels(1000)},
		"motors":         {motors(9999, shaft), controllers(1), batteries(1), gears(1, bore), wheels(1)},
		"wheels":         {motors(1, shaft), controllers(1), batteries(1), gears(1, bore), wheels(9999)},
	}
	out := map[string]string{}
	for name, parts := range catalogs {
		out[name] = "schema = 1\n" + strings.Join(parts, "")
	}
	return out
}

// TestMemory holds every command to mostMemory on every hostile catalog: it
// answers, or says what is too much, or is interrupted, which is as well here.
func TestMemory(t *testing.T) {
	if testing.Short() {
		t.Skip("each command takes seconds on each catalog")
	}
	// The kernel counts to a child what its parent held when it was started.
	var own syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &own); err != nil || own.Maxrss<<10 > mostMemory/2 {
		t.Skipf("run it alone: this process has held %d MB, which its children would seem to hold", own.Maxrss>>10)
	}
	const patience = 3 * time.Second
	const some = 20 // one in so many, unless all are asked for
	const easy, hard = " --top-speed 20km/h", " --top-speed 35km/h --climb-grade 12% --range 8km"
	build := "schema = 1\n[build]\nbattery = \"b0\"\ncontroller = \"c0\"\nmotor = \"m0\"\nmotors = 2\ngear_drive = \"g0\"\nwheel = \"w0\"\n"
	brief := "schema = 1\n[target]\ntop_speed_kmh = 20\n"
	always := map[string]string{"three lists": "rank --no-count" + hard, "with mounts": "relax --builds 1000" + hard} // they took most
	most := int64(0)
	catalogs := hostile()
	for i, name := range slices.Sorted(maps.Keys(catalogs)) {
		text := catalogs[name]
		if len(text) > 1<<20 {
			t.Fatalf("%s: %d bytes", name, len(text))
		}
		dir := t.TempDir()
		for file, data := range map[string]string{"parts.toml": text, "build.toml": build, "brief.toml": brief} {
			if err := os.WriteFile(filepath.Join(dir, file), []byte(data), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		for j, line := range []string{
			"rank" + hard, "rank --no-count" + hard, "rank --no-count --top 500000 -o top.csv" + easy, "rank --top 0 -o all.csv" + easy, "rank --top 0" + easy,
			"rank --top 100000 -o best.json" + easy, "rank --format jsonl -o all.jsonl" + easy, "rank --front range_km,price,mass_kg,top_speed_kmh" + easy,
			"rank --stability" + easy, "rank --tolerance --draws 100000" + easy, "rank --top-speed 190km/h", "rank --chart teeth" + easy,
			"rank --brief brief.toml --brief brief.toml --share motor", "rank --brief brief.toml --brief brief.toml --share wheel,drive",
			"shortlist drive" + hard, "shortlist motor" + hard, "shortlist wheel" + easy, "relax --top-speed 190km/h", "relax --top-speed 190km/h --builds 1000", "ideal" + hard,
			"report -o report.html" + easy, "swap build.toml --change motor,wheel,drive --top 0" + easy, "swap build.toml --change wheel --all --top 0" + hard,
			"plot build.toml front -o front.svg" + easy, "sheet build.toml" + hard, "parts build.toml" + hard,
			"catalog check", "catalog show", "catalog show motor wheel", "catalog convert parts.toml csv",
			"relax --builds 1000" + hard,
		} {
			if !*allMemory && (i+j)%some != 0 && line != always[name] {
				continue
			}
			args := append([]string{"gearsearch"}, strings.Fields(line)...)
			if args[1] != "catalog" || args[2] != "convert" {
				args = append(args, "--catalog", "parts.toml")
			}
			r := runIn(t, dir, patience, args)
			if most = max(most, r.memory); r.memory > mostMemory {
				t.Errorf("%s: %s: %d MB", name, line, r.memory>>20)
			}
			if r.code < 0 || r.code > outcome.ExitIO && r.code != outcome.ExitInterrupted || strings.Contains(r.stderr, "goroutine ") {
				t.Errorf("%s: %s: exit code %d, says %.500s", name, line, r.code, r.stderr)
			}
			t.Logf("%4d MB, %4.1f s, exit code %3d: %s: %s", r.memory>>20, r.took.Seconds(), r.code, name, line)
		}
	}
	t.Logf("%d MB at the most", most>>20)
}

// ran is what one run of the program took.
type ran struct {
	memory int64 // bytes in memory at the most
	took   time.Duration
	code   int
	stderr string
}

// runIn runs the program in a folder, interrupts it when patience ends, and
// kills it when it does not end by then.
func runIn(t *testing.T, dir string, patience time.Duration, args []string) ran {
	t.Helper()
	program, err := os.Executable() // which is the program under its name
	if err != nil {
		t.Fatal(err)
	}
	var stderr bytes.Buffer
	cmd := exec.Command(program)
	cmd.Args, cmd.Dir, cmd.Stderr = args, dir, &stderr
	begun := time.Now()
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	interrupt := time.AfterFunc(patience, func() { _ = cmd.Process.Signal(os.Interrupt) })
	kill := time.AfterFunc(20*patience, func() { _ = cmd.Process.Kill() })
	_ = cmd.Wait() // the code is looked at
	interrupt.Stop()
	kill.Stop()
	usage, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage)
	if !ok {
		t.Fatal("no resource usage")
	}
	return ran{usage.Maxrss << 10, time.Since(begun), cmd.ProcessState.ExitCode(), stderr.String()}
}
