"use strict";

// program runs command lines. It is the program of the command line itself, a second
// engine, several times as large as the first, and fetched once it is wanted. Each run has
// a folder in memory with the brief as brief.toml, the reader's catalog files, and
// what else it is given; one run follows the other.
const program = (() => {
  const line = newWire("program", { program: true });
  const waiting = []; // runs: {request, done}
  let ready = null; // a promise that it can be asked
  let now = null; // the run that is under way

  const start = () => line.start(() => (ready = null));

  // next begins the run whose turn it is.
  async function next() {
    if (now || !waiting.length) return;
    const mine = (now = waiting.shift());
    let reply;
    try {
      ready = ready || start();
      await ready;
      if (now !== mine) return;
      mine.begun();
      reply = await line.ask(mine.request);
    } catch (error) {
      if (now === mine) ready = null;
      reply = { fault: "the program does not start: " + error.message };
    }
    if (now !== mine) return; // it was stopped, and has been told
    now = null;
    mine.done(reply.cancelled ? { fault: "the program has ended" } : reply);
    next();
  }

  // stop ends a run, under way or not yet.
  function stop(run) {
    const at = waiting.indexOf(run);
    if (at >= 0) waiting.splice(at, 1);
    if (now === run) {
      now = null;
      ready = null;
      line.stop();
    }
    run.done({ cancelled: true });
    next();
  }

  // base64 is a text's bytes.
  function base64(text) {
    let bytes = "";
    for (const b of new TextEncoder().encode(text)) bytes += String.fromCharCode(b);
    return btoa(bytes);
  }

  // bytes are those of a file in base64.
  const bytes = (code) => Uint8Array.from(atob(code), (c) => c.charCodeAt(0));

  // shell is a word as a shell reads it.
  function shell(word) {
    return /^[A-Za-z0-9._,:=/%+-]+$/.test(word) ? word : "'" + word.replaceAll("'", "'\\''") + "'";
  }

  // place is where a file of the reader lies: beside the others, but not in the place of one
  // that the page puts there.
  const place = (name) => (["brief.toml", "build.toml", "other.toml"].includes(name) ? "parts/" + name : name);

  // path is how a file is named on a command line.
  const path = (name) => (name === "demo" || /^[-:]/.test(name) ? "./" + name : name);

  // catalog is what the parts in use are on a command line: their paths, and those files
  // of them that the reader has.
  async function catalog() {
    const { files, demo } = state.inUse;
    if (!files.length) return { paths: ["demo"], files: {} };
    const held = Object.fromEntries(files.map((f) => [place(f.name), f.data]));
    const paths = files.map((f) => path(place(f.name)));
    if (!demo) return { paths, files: held };
    const saved = (await wire.ask({ ask: "save", what: "demo" })).answer;
    return { paths: [saved.name, ...paths], files: { ...held, [saved.name]: base64(saved.text) } };
  }

  // command makes a command line about a question. words are a list, behind which stands
  // what says which parts and which brief, or make all of it of the paths of the parts.
  // more are texts of further files by name, kept files in base64. What is wrong with the
  // brief is in problems.
  async function command({ words, more = {}, kept = {} }, question) {
    const reply = await wire.ask({ ask: "save", what: "brief", brief: question.brief, way: question.way });
    if (!reply.answer) return { problems: reply.problems || [{ text: reply.fault || "the engine does not answer" }] };
    const parts = await catalog();
    const files = { ...kept, ...parts.files, "brief.toml": base64(reply.answer.text) };
    if (question.way) files[question.way.name] = question.way.data;
    for (const [name, text] of Object.entries(more)) files[name] = base64(text);
    if (typeof words === "function") return { args: words(parts.paths), files };
    const args = [...words, ...parts.paths.flatMap((p) => ["--catalog", p]), "--brief", "brief.toml"];
    if (question.strict) args.push("--strict");
    if (question.units === "imperial") args.push("--units", "imperial");
    return { args, files };
  }

  // typed is a command line as it is typed.
  const typed = (args) => ["gearsearch", ...args].map(shell).join(" ");

  // run runs a command line with its files, in base64 by name. It returns the run, which
  // stop takes: answer is a promise of what comes of it, {code, out, err, files}, these as
  // they are given, or {cancelled} or {fault}; begun is called when its turn has come.
  function run({ args, files }, begun = () => {}) {
    const mine = { request: { args, files }, begun };
    mine.answer = new Promise((done) => (mine.done = done));
    waiting.push(mine);
    next();
    return mine;
  }

  return { command, catalog, typed, run, stop, path, bytes, base64 };
})();
