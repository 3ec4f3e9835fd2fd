//go:build pageengine

package main

import _ "embed" // the engines

// The engines' files, built beforehand.
//
//go:embed site/engine/engine.js
var releasedEngine []byte

//go:embed site/engine/drawings.js
var releasedDrawings []byte

func releasedEngines() pageEngines {
	return pageEngines{plain: releasedEngine, draws: releasedDrawings}
}
