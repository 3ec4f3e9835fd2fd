//go:build pageengine

package main

import _ "embed" // the engine

// releasedEngine is the engine's file, built beforehand.
//
//go:embed page/engine/engine.js
var releasedEngine []byte
