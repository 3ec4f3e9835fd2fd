package catalog_test

import (
	"errors"
	"fmt"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
)

// A family of pulleys, a wheel, and what they come to in SI units.
func ExampleRead() {
	c, err := catalog.Read(catalog.Source{Name: "parts.toml", Data: []byte(`
schema = 1

[[pulley]]
id = "steel-5m"
side = "motor"
profile = "htd-5m"
teeth = [14, 15, 16]
width_mm = 16

[[wheel]]
id = "street"
diameter_mm = 97
hub = ["five", "eight"]
`)})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range c.Pulleys {
		fmt.Println(p.ID, p.Teeth, p.Profile.Pitch, "m")
	}
	fmt.Println(c.Wheels[0].ID, c.Wheels[0].Diameter, "m", c.Wheels[0].Hubs)
	// Output:
	// steel-5m-14 14 0.005 m
	// steel-5m-15 15 0.005 m
	// steel-5m-16 16 0.005 m
	// street 0.097 m [five eight]
}

// All that is wrong is reported at once, with its place.
func ExampleRead_problems() {
	_, err := catalog.Read(catalog.Source{Name: "parts.toml", Data: []byte(`
schema = 1
[[motor]]
id = "m63"
kv = 0.19
pole_pair = 7
`)})
	var problems field.Problems
	if errors.As(err, &problems) {
		fmt.Println(problems)
	}
	// Output:
	// parts.toml:5:6: kv is 0.19, must be 5 to 10000 rpm/V
	//     kv = 0.19
	//          ^^^^
	//     hint: 190 would fit: is the unit rpm/V?
	// parts.toml:6:1: unknown key "pole_pair" in motor
	//     pole_pair = 7
	//     ^^^^^^^^^
	//     hint: did you mean pole_pairs?
}

// The demo's motors that take 12 in series and are not too fast.
func ExampleParseFilter() {
	c, err := catalog.Demo()
	if err != nil {
		fmt.Println(err)
		return
	}
	f, err := catalog.ParseFilter("kv < 150 and max_volts >= 50.4 and not unknown(resistance_mohm)", "motor")
	if err != nil {
		fmt.Println(err)
		return
	}
	for e := range c.Entries("motor") {
		if f.Match(e) {
			_, kv := e.Value("kv")
			fmt.Println(e.Part.ID, kv)
		}
	}
	_, err = catalog.ParseFilter("kv < 150rpm")
	fmt.Println(err)
	// Output:
	// hd-63-125 125
	// ov-63l-100 100
	// ov-63l-130 130
	// ov-63m-145 145
	// qn-hub-60 60
	// qn-hub-75 75
	// kv is compared to "150rpm": "rpm" is no unit of speed constant
	//     kv < 150rpm
	//          ^^^^^^
	//     hint: known: rpm/V
}
