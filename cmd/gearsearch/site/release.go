//go:build pageengine

package site

import _ "embed" // the engines

// The engines, built and squeezed beforehand, and the script that goes with them.
//
//go:embed engine/engine.wasm.br
var releasedEngine []byte

//go:embed engine/program.wasm.br
var releasedProgram []byte

//go:embed engine/wasm_exec.js
var releasedRuntime []byte

// Released are the engines that are in a release.
func Released() Engines {
	return Engines{Runtime: releasedRuntime, Plain: Engine{Brotli: releasedEngine}, Program: Engine{Brotli: releasedProgram}}
}
