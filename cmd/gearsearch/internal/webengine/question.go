package webengine

import "gearsearch/search"

// apart is what tells the builds apart that are listed: nothing where every build is
// asked for.
func (r *request) apart() search.Apart {
	if r.Every {
		return search.Apart{}
	}
	return search.ApartByMotor()
}

// top is how many builds are asked for.
func (r *request) top() int {
	if r.Top <= 0 {
		return defaultTop
	}
	return min(r.Top, mostTop)
}
