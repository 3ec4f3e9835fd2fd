"use strict";

// newWire makes what speaks with an engine in its worker; name is where the
// engine's script leaves it. A question is an object of the engine's protocol;
// its answer is a promise of the reply. Where the engine is the program, a question
// is a command line and its files.
const newWire = (name, { program = false } = {}) => {
  let worker = null;
  let module = null; // the compiled engine, for a next worker
  let abandon = () => {}; // ends a start that is under way
  let last = 0;
  const waiting = new Map(); // what to do with replies, by id

  // start starts a worker. The promise is kept when it can be asked; ended is
  // called, with a reason, if it ends after that.
  function start(ended) {
    const engine = globalThis[name];
    if (!engine) return Promise.reject(new Error("engine.js is missing beside this page"));
    const url = URL.createObjectURL(new Blob([engine.runtime, "\n", engine.worker], { type: "text/javascript" }));
    return new Promise((kept, broken) => {
      let ready = false;
      const fail = (text) => {
        broken(new Error(text));
        stop();
        if (ready) ended(text);
      };
      abandon = () => broken(new Error("it was stopped"));
      worker = new Worker(url);
      worker.onerror = (event) => {
        event.preventDefault();
        fail(event.message || "the worker did not start");
      };
      worker.onmessage = ({ data }) => {
        if (data.module) {
          module = data.module;
          delete engine.code;
        } else if (data.ready) {
          ready = true;
          URL.revokeObjectURL(url);
          kept();
        } else if (data.failed) {
          fail(data.failed);
        } else {
          const done = waiting.get(data.id);
          waiting.delete(data.id);
          if (done) done(JSON.parse(data.reply));
        }
      };
      worker.postMessage(module ? { module, program } : { code: engine.code, program });
    });
  }

  // stop ends the worker; its questions stay without an answer.
  function stop() {
    if (worker) worker.terminate();
    worker = null;
    abandon();
    for (const done of waiting.values()) done({ cancelled: true });
    waiting.clear();
  }

  function ask(question) {
    if (!worker) return Promise.resolve({ cancelled: true });
    return new Promise((done) => {
      const id = ++last;
      waiting.set(id, done);
      worker.postMessage({ id, request: JSON.stringify(question) });
    });
  }

  return { start, stop, ask };
};

const wire = newWire("gearsearchEngine");
