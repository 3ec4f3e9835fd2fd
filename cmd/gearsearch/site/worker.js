// The worker: an engine in WebAssembly behind a few lines, or the program itself, which
// runs anew for each command line. It is put behind the Go distribution's
// wasm_exec.js, which defines Go, and behind folder.js.
//
// In:  {code}, {address} or {module}, once
//                                  the engine as base64 of gzip, where to fetch it,
//                                  or compiled;
//      program: true               it is the program
//      {id, request}               a question as JSON; of the program a command line and
//                                  its files: {args, files}, these in base64 by name
// Out: {module}                    the compiled engine, for a next worker
//      {ready: true}
//      {id, far}                   how far a search is, as JSON, before its reply
//      {id, reply}                 an answer as JSON; of the program {code, out, err, files}:
//                                  the exit code, what it says, and the files that it
//                                  writes, in base64 by name
//      {failed: text}              the engine does not run, or not any more
"use strict";

(() => {
  const fail = (error) => postMessage({ failed: String((error && error.message) || error) });

  const bytesOf = (code) => {
    const text = atob(code);
    const bytes = new Uint8Array(text.length);
    for (let i = 0; i < text.length; i++) bytes[i] = text.charCodeAt(i);
    return bytes;
  };

  const codeOf = (bytes) => {
    let text = "";
    for (const b of bytes) text += String.fromCharCode(b);
    return btoa(text);
  };

  // each is an object with a function of each of its values.
  const each = (object, f) => Object.fromEntries(Object.entries(object).map(([name, value]) => [name, f(value)]));

  // unpacked is the engine out of a text.
  async function unpacked(code) {
    if (typeof DecompressionStream !== "function" || typeof WebAssembly !== "object") {
      throw new Error("this browser is too old for the engine: it needs one of 2023 or later");
    }
    const plain = new Blob([bytesOf(code)]).stream().pipeThrough(new DecompressionStream("gzip"));
    return WebAssembly.compile(await new Response(plain).arrayBuffer());
  }

  // fetched is the engine from a server, compiled while it comes where the server
  // says what it is.
  async function fetched(address) {
    const came = await fetch(address);
    if (!came.ok) throw new Error(`${address}: the server says ${came.status}`);
    const said = (came.headers.get("Content-Type") || "").startsWith("application/wasm");
    return said ? WebAssembly.compileStreaming(came) : WebAssembly.compile(await came.arrayBuffer());
  }

  async function start({ code, address, module, program }) {
    if (!module) {
      module = await (address ? fetched(address) : unpacked(code));
      postMessage({ module });
    }
    if (program) {
      answer = (request, reply) => {
        running = running.then(() => run(module, request)).then(reply).catch(fail);
      };
      postMessage({ ready: true });
      return;
    }
    const go = new Go();
    self.gearsearchReady = () => postMessage({ ready: true });
    const instance = await WebAssembly.instantiate(module, go.importObject);
    go.run(instance).then(() => fail("the engine has ended"), fail);
  }

  // run runs the program once, with a folder of its own.
  async function run(module, request) {
    const { args, files } = JSON.parse(request);
    const folder = held(each(files, bytesOf));
    Object.assign(globalThis, { fs: folder.fs, process: folder.process, path: folder.path });
    const timers = []; // which must not wake a program that has ended
    const timed = globalThis.setTimeout;
    globalThis.setTimeout = (...what) => {
      timers.push(timed(...what));
      return timers.at(-1);
    };
    const go = new Go();
    go.argv = ["gearsearch", ...args];
    go.env = { GOGC: "400" }; // a search leaves much garbage and little else
    let code = 0;
    go.exit = (given) => (code = given);
    try {
      await go.run(await WebAssembly.instantiate(module, go.importObject));
    } finally {
      globalThis.setTimeout = timed;
      timers.forEach(clearTimeout);
    }
    return JSON.stringify({ code, out: folder.said(1), err: folder.said(2), files: each(folder.written(), codeOf) });
  }

  let running = Promise.resolve();
  let answer = (request, reply, tell) => self.gearsearchAnswer(request, reply, tell);

  onmessage = ({ data }) => {
    if (!data.id) {
      start(data).catch(fail);
      return;
    }
    try {
      answer(data.request, (reply) => postMessage({ id: data.id, reply }), (far) => postMessage({ id: data.id, far }));
    } catch (error) {
      fail(error);
    }
  };
})();
