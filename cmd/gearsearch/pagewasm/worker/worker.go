//go:build js && wasm

// Package worker joins an engine to the worker of the static page that it runs
// in. It gives the worker one function,
//
//	gearsearchAnswer(request, reply, tell)
//
// which takes a request of package webengine as JSON and calls reply with the
// answer as JSON; before that, of a search that takes long, tell with how far it is. It calls gearsearchReady once it can be asked.
package worker

import (
	"runtime/debug"
	"syscall/js"

	"gearsearch/cmd/gearsearch/internal/webengine"
)

// Run answers until the worker ends.
func Run() {
	// A search leaves much garbage and little else: collect it less often.
	const garbage = 400
	debug.SetGCPercent(garbage)

	engine, err := webengine.New(turns())
	if err != nil {
		panic(err) // the embedded demo parts are wrong
	}
	js.Global().Set("gearsearchAnswer", js.FuncOf(func(_ js.Value, args []js.Value) any {
		request, reply, tell := args[0].String(), args[1], args[2]
		go func() {
			reply.Invoke(string(engine.Answer([]byte(request), func(far []byte) { tell.Invoke(string(far)) })))
		}()
		return nil
	}))
	js.Global().Call("gearsearchReady")
	select {} // the worker ends it
}

// turns makes a function that gives the worker's event loop a turn: it returns
// when a message to ourselves arrives, behind those that have come meanwhile. A
// timer would do as well, but browsers hold back timers that follow each other.
func turns() func() {
	const most = 64 // searches at once
	came := make(chan struct{}, most)
	channel := js.Global().Get("MessageChannel").New()
	channel.Get("port1").Set("onmessage", js.FuncOf(func(js.Value, []js.Value) any {
		came <- struct{}{}
		return nil
	}))
	port := channel.Get("port2")
	return func() {
		port.Call("postMessage", nil)
		<-came
	}
}
