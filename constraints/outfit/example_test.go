package outfit_test

import (
	"fmt"
	"log"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/constraints/outfit"
)

func Example() {
	parts, err := catalog.Demo()
	if err != nil {
		log.Fatal(err)
	}
	brief := constraints.DefaultBrief()
	brief.Target.ClimbGrade = 0.15
	problem, err := constraints.NewProblem(parts, brief)
	if err != nil {
		log.Fatal(err)
	}
	file, err := constraints.ReadBuild(catalog.Source{Name: "build.toml", Data: []byte(`
schema = 1
[build]
battery = "power-12s3p"
controller = "tv-d60"
motor = "ov-63m-180"
motors = 2
motor_pulley = "st5-8k-16"
wheel_pulley = "al5-slot-40"
mount = "mt-mid"
wheel = "quay-107"
`)})
	if err != nil {
		log.Fatal(err)
	}
	build, err := problem.Find(file)
	if err != nil {
		log.Fatal(err)
	}

	o := outfit.Complete(build, outfit.DefaultWishes())
	fmt.Println(o.Need("switch", "").Words)
	fmt.Println(o.Need("fuse", "").Words)
	fmt.Println(o.Need("wire", "battery").Words)
	for _, r := range o.Results() {
		if r.Fails() {
			fmt.Println(r.Name+":", r.Words)
		}
	}
	// Output:
	// a main switch that pre-charges, for at least 50.4 V, 90 A for seconds and 42.1 A for long
	// a fuse of 90 to 105 A, for at least 50.4 V of direct current, that breaks 934 A
	// 0.6 m of wire for the pack's leads, 8 AWG (8.37 mm²) or thicker, insulated for at least 105 °C and 50.4 V
	// small-pulley: a pulley of 16 teeth bends the htd-5m belt more sharply than the handbook's 30 at 6811 rpm: the belt wears out sooner
	// hunting-tooth: pulleys of 16 and 40 teeth share the divisor 8: each tooth meets only one in 8 of the other, where a flaw of it wears sooner
}
