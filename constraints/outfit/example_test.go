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
	for _, d := range o.Need("fuse", "").Demands {
		fmt.Printf("%s from %.4g to %.4g %s\n", d.Key, d.Least*d.PerSI, d.Most*d.PerSI, d.Unit)
	}
	fmt.Println(o.Need("switch", "").State)
	for _, r := range o.Results() {
		if r.Fails() {
			fmt.Println(r.Name+":", r.Says.Code)
		}
	}
	// Output:
	// rated_a from 66.67 to 105 A
	// max_volts_dc from 50.4 to NaN V
	// breaking_a from 1867 to NaN A
	// chosen
	// key: key-is-weakest
	// small-pulley: bends-sharply
	// hunting-tooth: pulleys-share
}
