// The worker: the engine in WebAssembly behind a few lines. It is put behind
// the Go distribution's wasm_exec.js, which defines Go.
//
// In:  {code} or {module}, once    the engine as base64 of gzip, or compiled
//      {id, request}               a question as JSON
// Out: {module}                    the compiled engine, for a next worker
//      {ready: true}
//      {id, reply}                 an answer as JSON
//      {failed: text}              the engine does not run, or not any more
"use strict";

(() => {
  const fail = (error) => postMessage({ failed: String((error && error.message) || error) });

  async function compile(code) {
    if (typeof DecompressionStream !== "function" || typeof WebAssembly !== "object") {
      throw new Error("this browser is too old for the engine: it needs one of 2023 or later");
    }
    const text = atob(code);
    const bytes = new Uint8Array(text.length);
    for (let i = 0; i < text.length; i++) bytes[i] = text.charCodeAt(i);
    const plain = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
    return WebAssembly.compile(await new Response(plain).arrayBuffer());
  }

  async function start({ code, module }) {
    if (!module) {
      module = await compile(code);
      postMessage({ module });
    }
    const go = new Go();
    self.gearsearchReady = () => postMessage({ ready: true });
    const instance = await WebAssembly.instantiate(module, go.importObject);
    go.run(instance).then(() => fail("the engine has ended"), fail);
  }

  onmessage = ({ data }) => {
    if (!data.id) {
      start(data).catch(fail);
      return;
    }
    try {
      self.gearsearchAnswer(data.request, (reply) => postMessage({ id: data.id, reply }));
    } catch (error) {
      fail(error);
    }
  };
})();
