package plot

import "math"

// columns are into how many parts the way is cut at most: more cannot be told apart.
const columns = 420

// thinned are points in the units that are drawn: of many in a column the first, the
// lowest, the highest and the last.
func (r *ride) thinned(points []point, y measure) []point {
	points = withoutFlat(points)
	if len(points) > 4*columns {
		points = inColumns(points, r.Way.Length()/columns)
	}
	return scaled(points, r.km, y)
}

// withoutFlat leaves out points between two at the same height.
func withoutFlat(points []point) []point {
	var out []point
	for i, p := range points {
		if inside := i > 0 && i+1 < len(points); inside && p.y == points[i-1].y && p.y == points[i+1].y {
			continue
		}
		out = append(out, p)
	}
	return out
}

// inColumns keeps of the points in each column the first, the lowest, the highest and
// the last that are numbers, in their order, and a gap where there is one.
func inColumns(points []point, wide float64) []point {
	var out []point
	for i := 0; i < len(points); {
		end := i
		first, low, high, last, gap := -1, -1, -1, -1, -1
		for ; end < len(points) && math.Floor(points[end].x/wide) == math.Floor(points[i].x/wide); end++ {
			switch y := points[end].y; {
			case math.IsNaN(y):
				gap = end
				continue
			case first < 0:
				first, low, high = end, end, end
			case y < points[low].y:
				low = end
			case y > points[high].y:
				high = end
			}
			last = end
		}
		for k := i; k < end; k++ {
			if k == first || k == low || k == high || k == last || k == gap {
				out = append(out, points[k])
			}
		}
		i = end
	}
	return out
}
