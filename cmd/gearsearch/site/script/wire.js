"use strict";

// newWire makes what speaks with an engine in its worker; name is that of the
// engine's file, without its ending. A question is an object of the engine's
// protocol; its answer is a promise of the reply. Where the engine is the program, a
// question is a command line and its files.
const newWire = (name, { program = false } = {}) => {
  let worker = null;
  let module = null; // the compiled engine, for a next worker
  let abandon = () => {}; // ends a start that is under way
  let early = []; // what is to be told the engine once it can be asked; null: it can
  let foreknown = program ? {} : globalThis.gearsearchPage.foreknown; // replies, by question
  let last = 0;
  const waiting = new Map(); // what to do with replies, by id
  const listening = new Map(); // who is told how far a search is, by id

  // source is what the worker gets the engine from: the text that stands in a page
  // of one file, the address on a server, or, for a page opened from a disk, which
  // may fetch nothing, the text of a script.
  async function source() {
    if (!globalThis.gearsearchPage.folder) {
      if (document.readyState === "loading") await new Promise((come) => addEventListener("DOMContentLoaded", come));
      return { code: dom.byId("code-" + name).textContent };
    }
    if (location.protocol !== "file:") return { address: new URL(name + ".wasm", document.baseURI).href };
    await new Promise((kept, broken) => {
      document.head.append(dom.el("script", { src: name + ".js", onload: kept, onerror: () => broken(new Error(name + ".js is missing beside this page")) }));
    });
    const code = globalThis.gearsearchCode[name];
    delete globalThis.gearsearchCode[name];
    return { code };
  }

  // start starts a worker. The promise is kept when it can be asked; ended is
  // called, with a reason, if it ends after that.
  function start(ended) {
    const { runtime, worker: behind } = globalThis.gearsearchPage;
    const url = URL.createObjectURL(new Blob([runtime, "\n", behind], { type: "text/javascript" }));
    return new Promise((kept, broken) => {
      let ready = false;
      const own = new Worker(url);
      const fail = (text) => {
        broken(new Error(text)); // first: the page says why before its questions end
        if (worker !== own) return;
        stop();
        if (ready) ended(text);
      };
      abandon = () => broken(new Error("it was stopped"));
      worker = own;
      early = [];
      worker.onerror = (event) => {
        event.preventDefault();
        fail(event.message || "the worker did not start");
      };
      worker.onmessage = ({ data }) => {
        if (data.module) {
          module = data.module;
        } else if (data.ready) {
          ready = true;
          URL.revokeObjectURL(url);
          for (const message of early) own.postMessage(message);
          early = null;
          performance.mark(name);
          kept();
        } else if (data.failed) {
          fail(data.failed);
        } else if (data.far) {
          const tell = listening.get(data.id);
          if (tell) tell(JSON.parse(data.far));
        } else {
          const done = waiting.get(data.id);
          waiting.delete(data.id);
          listening.delete(data.id);
          if (done) done(JSON.parse(data.reply));
        }
      };
      (module ? Promise.resolve({ module }) : source()).then((from) => own.postMessage({ ...from, program }), (error) => fail(error.message));
    });
  }

  // stop ends the worker; its questions stay without an answer.
  function stop() {
    if (worker) worker.terminate();
    worker = null;
    abandon();
    for (const done of waiting.values()) done({ cancelled: true });
    waiting.clear();
    listening.clear();
  }

  // foretold is the reply to a question that was answered when the page was made, once;
  // null: none. Those answers are about the demo's parts, with which the engine begins.
  function foretold(question, text) {
    const reply = foreknown[text];
    if (reply) delete foreknown[text];
    else if (question.ask === "catalog") foreknown = {};
    return reply ? JSON.parse(reply) : null;
  }

  // ask asks; tell, if there is one, is told now and then how far the search is. A
  // question may come before the engine can be asked: it waits.
  function ask(question, tell) {
    if (!worker) return Promise.resolve({ cancelled: true });
    const request = JSON.stringify(question);
    const reply = foretold(question, request);
    if (reply) return Promise.resolve(reply);
    return new Promise((done) => {
      const id = ++last;
      waiting.set(id, done);
      if (tell) listening.set(id, tell);
      if (early) early.push({ id, request });
      else worker.postMessage({ id, request });
    });
  }

  // running tells whether there is an engine, or one on its way.
  const running = () => worker !== null;

  return { start, stop, ask, running };
};

const wire = newWire("engine");
