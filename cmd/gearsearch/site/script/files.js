"use strict";

// files takes what the reader drops: catalogs to the shelves, a brief to the
// sentences, a build to the builds; one that carries its parts and its brief, to all
// three. They are read here and go to the engine in
// this computer's own memory, nowhere else.
const files = (() => {
  const el = dom.el;
  let problems = []; // of what was dropped last: {name, text}
  let wrong = false; // the files in state.files are not in use
  let more = 0;
  let hooks = {};

  // start makes the whole page a place to drop files on. hooks: brief(values),
  // build(text) and carried({name, build, values}) are told what came, asking() that other parts are asked
  // may be asked about, catalog(read) whether they have been read, same() that
  // they are those of before, refused() that a file is not taken.
  function start(given) {
    hooks = given;
    const veil = dom.byId("veil");
    const carries = (event) => event.dataTransfer && [...event.dataTransfer.types].includes("Files");
    addEventListener("dragover", (event) => {
      if (!carries(event)) return;
      event.preventDefault();
      veil.hidden = false;
    });
    addEventListener("dragleave", (event) => {
      if (!event.relatedTarget) veil.hidden = true;
    });
    addEventListener("drop", (event) => {
      if (!carries(event)) return;
      event.preventDefault();
      veil.hidden = true;
      take([...event.dataTransfer.files]);
    });
  }

  // base64 reads a file.
  const base64 = (file) => new Promise((kept, broken) => {
    const reader = new FileReader();
    reader.onload = () => kept(String(reader.result).split(",")[1] || "");
    reader.onerror = () => broken(reader.error);
    reader.readAsDataURL(file);
  });

  // take looks at files one by one and passes each on to where it belongs.
  async function take(list) {
    const catalogs = [];
    const drafts = []; // of the reader's own parts
    const sheets = []; // rows whose columns are to be matched
    let brief = false;
    let route = null;
    let carried = null; // a build with its parts and its brief
    problems = [];
    more = 0;
    hooks.asking();
    for (const file of list) {
      if (file.size > state.words.maxFile) {
        problems.push({ name: file.name, text: `${file.name}: too large for a catalog: the limit is ${Math.floor(state.words.maxFile / 1048576)} MB` });
        continue;
      }
      let held;
      try {
        held = { name: file.name, data: await base64(file) };
      } catch (error) {
        problems.push({ name: file.name, text: `${file.name}: cannot be read (of a folder, drop the files in it)` });
        continue;
      }
      const reply = await wire.ask({ ask: "file", file: held });
      if (!reply.answer) note(reply);
      else if (reply.answer.is === "brief") {
        brief = true;
        hooks.brief(reply.answer.values);
      }
      else if (reply.answer.is === "sheet") sheets.push({ name: held.name, file: held });
      else if (reply.answer.is === "book") await unfold(held, sheets);
      else if (reply.answer.is === "way") route = held;
      else if (reply.answer.is === "own") drafts.push(...reply.answer.drafts);
      else if (reply.answer.carries) carried = { file: held, ...reply.answer };
      else if (reply.answer.is === "build") hooks.build(reply.answer.build);
      else catalogs.push(held);
    }
    if (catalogs.length) {
      const names = catalogs.map((f) => f.name);
      if (!state.files.some((f) => f.name !== own.file)) state.demo = false;
      state.files = [...state.files.filter((f) => !names.includes(f.name)), ...catalogs];
    }
    if (route) hooks.way(route);
    if (carried) return unpack(carried);
    if (drafts.length) await own.take(drafts);
    else if (catalogs.length) await use();
    else if (sheets.length) hooks.same();
    if (sheets.length) {
      hooks.shown();
      parts.crate();
      sheets.forEach((job) => intake.offer(job));
    }
    if (catalogs.length || drafts.length || sheets.length) return;
    if (problems.length) hooks.refused();
    if (!brief) hooks.same();
  }

  // unpack puts the parts and the brief that a build carries in the place of those in use,
  // as the command line does, and shows it. What was in use is kept as a board.
  async function unpack({ file, build, values }) {
    hooks.carried(file.name, values);
    state.files = [file];
    state.demo = false;
    if (await use()) hooks.build(build, file.name);
  }

  // unfold takes the tables out of a workbook.
  async function unfold(held, sheets) {
    try {
      const found = await book.read(Uint8Array.from(atob(held.data), (c) => c.charCodeAt(0)));
      for (const s of found) sheets.push({ name: found.length > 1 ? `${held.name}, ${s.name}` : held.name, text: s.text });
    } catch (error) {
      problems.push({ name: held.name, text: `${held.name}: ${error.message}` });
    }
  }

  // use has the engine read the files as its catalog, and reports whether it
  // has. What is wrong with them is shown, and the engine goes on with the
  // catalog that it has. The reader's own parts are read beside them first, unless
  // they have been.
  async function use(read) {
    if (!state.files.length) state.demo = true;
    hooks.asking();
    if (!read) await own.check();
    const reply = await wire.ask({ ask: "catalog", files: state.files, demo: state.demo });
    if (reply.cancelled) return false;
    wrong = !reply.answer;
    if (wrong) note(reply);
    else {
      state.contents = reply.answer;
      state.inUse = { files: state.files, demo: state.demo };
    }
    keep.soon();
    fresh.without(wrong ? unread() : []);
    hooks.catalog(!wrong);
    return !wrong;
  }

  // unread names the files that are not in use.
  function unread() {
    const names = state.files.filter((f) => !state.inUse.files.includes(f)).map((f) => f.name);
    return names.length ? names : ["the change of files"];
  }

  function note(reply) {
    for (const p of reply.problems || [{ text: reply.fault || "the engine does not answer" }]) problems.push(p);
    more += reply.more || 0;
  }

  // remove takes a file away.
  function remove(name) {
    state.files = state.files.filter((f) => f.name !== name);
    problems = [];
    use();
  }

  function withDemo(on) {
    state.demo = on;
    problems = [];
    use();
  }

  // crate is the place where files are chosen, listed and complained about.
  function crate() {
    const input = el("input", { type: "file", multiple: true, id: "choose" });
    input.addEventListener("change", () => {
      take([...input.files]);
      input.value = "";
    });
    const c = state.contents;
    return [
      el("div", { class: "crate" },
        el("p", null, el("label", { for: "choose", class: "choose" }, "Choose files", input), " or drop them anywhere on this page: a catalog in TOML, or tables of parts as CSV or .xlsx. A brief or a build file works too."),
        el("ul", { class: "files" },
          el("li", null, el("label", null, el("input", { type: "checkbox", id: "with-demo", checked: state.demo, disabled: !state.files.length, onchange: (e) => withDemo(e.target.checked) }), " demo parts, all invented")),
          own.has() && el("li", null, `${own.sound()} of your own `, el("button", { type: "button", class: "quiet", id: "save-own", onclick: saveOwn }, "Save as own.toml")),
          state.files.filter((f) => f.name !== own.file).map((f) => el("li", null, dom.data(f.name), wrong && el("span", { class: "soft" }, " not in use "), " ",
            el("button", { type: "button", class: "quiet", onclick: () => remove(f.name), "aria-label": "remove " + f.name }, "remove")))),
        c.invented && el("p", null, c.invented),
        el("p", { class: "soft" }, c.total + " parts in use. ", el("button", { type: "button", class: "quiet", onclick: saveDemo }, "Save the demo parts as a file to start from"))),
      problems.length > 0 && el("div", { class: "notice bad", role: "alert", id: "file-problems" },
        el("p", null, wrong ? "These files are not in use until you fix this; all answers still use the parts from before." : "Not read:"),
        el("pre", { tabindex: "0" }, problems.map((p) => p.text).join("\n") + (more ? `\nand ${more} more` : ""))),
    ];
  }

  async function saveOwn() {
    const reply = await wire.ask({ ask: "save", what: "own", drafts: state.own, files: state.files, demo: state.demo });
    if (reply.answer) dom.save(reply.answer.name, reply.answer.text);
  }

  async function saveDemo() {
    const reply = await wire.ask({ ask: "save", what: "demo" });
    if (reply.answer) dom.save(reply.answer.name, reply.answer.text);
  }

  return { start, use, crate, base64 };
})();
