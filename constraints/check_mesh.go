package constraints

import "math"

// meshCheck: do enough teeth of the small pulley carry the load?
var meshCheck = Check{
	Name:    "mesh",
	Subject: "teeth in mesh",
	Figure:  "mesh_teeth",
	Meaning: "enough whole teeth of the small pulley or sprocket are in mesh with the belt or chain",
	Unit:    "teeth",
	PerSI:   1,
	Lower:   true,
	Scope:   on(OnDrive),
	Applies: (*Problem).Belted,
	Lists:   belted,
	Corner: func(b *Build) Outcome {
		need := b.Problem.Brief.Limit.MeshTeeth
		if b.Drive.Mesh < 0 {
			return undecided(math.NaN(), need)
		}
		o := atLeast(float64(b.Drive.Mesh), need)
		if o.Verdict == Fail && b.Drive.idler() {
			o.Verdict = Undecided // the idler adds wrap that is not counted
		}
		return o
	},
	Eased: []Easing{{Key: "limit.mesh_teeth", At: func(b *Build) float64 { return float64(b.Drive.Mesh) }}},
}
