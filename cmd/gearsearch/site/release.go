//go:build pageengine

package site

import _ "embed" // the engines

// The engines' files, built beforehand.
//
//go:embed engine/engine.js
var releasedEngine []byte

//go:embed engine/drawings.js
var releasedDrawings []byte

// Released are the engines that are in a release.
func Released() Engines {
	return Engines{Plain: releasedEngine, Draws: releasedDrawings}
}
