"use strict";

// boards are what the reader keeps under names: a brief with the files and the build
// that go with it. And a link to the question as it stands.
const boards = (() => {
  const el = dom.el;
  let told = ""; // what became of the last deed

  // now is the board as it stands.
  function now(name) {
    const { brief, strict, every, top, demo, files, build } = state;
    return { name, brief: { ...brief }, strict, every, top, demo, files, build, way: way.of(brief) };
  }

  // say tells what became of a deed, and shows the boards as they are now.
  function say(text) {
    told = text;
    show();
  }

  function save(event) {
    event.preventDefault();
    const name = dom.byId("board-name").value.trim();
    if (!name) return say("Give it a name first.");
    const list = keep.boards().filter((b) => b.name !== name);
    if (keep.keepBoards([...list, now(name)])) return say(`Kept as ${name}${way.of(state.brief) ? ", with its route" : ""}.`);
    const bare = { ...now(name), files: [], demo: true, way: null };
    if ((state.files.length || state.way) && keep.keepBoards([...list, bare])) return say(`Kept as ${name}, without your files: they are too large.`);
    say("Nothing is kept: this browser has no room for it. Save the brief as a file.");
  }

  async function open(board) {
    const files_ = JSON.stringify(state.files) !== JSON.stringify(board.files) || state.demo !== board.demo;
    Object.assign(state, { ...board, brief: { ...board.brief }, files: [...board.files] });
    delete state.name;
    blank.showAll();
    builds.look(state.build);
    say(`${board.name} is open.`);
    if (files_) await files.use(); // which asks
    else state.changed();
  }

  function remove(name) {
    keep.keepBoards(keep.boards().filter((b) => b.name !== name));
    say(`${name} is deleted.`);
  }

  // before keeps the brief of the last time under a name where a link brings another.
  function before(kept) {
    const name = "before the link";
    const list = keep.boards().filter((b) => b.name !== name);
    keep.keepBoards([...list, { ...kept, name }]);
    told = `The link has brought its own question. Yours is kept as “${name}”.`;
  }

  async function copy() {
    const link = address.link();
    const field = dom.byId("board-link");
    try {
      await navigator.clipboard.writeText(link);
      say("The link is copied. It holds the question, not your own parts or route.");
    } catch (error) {
      field.hidden = false;
      field.value = link;
      field.focus();
      field.select();
    }
  }

  const row = (b) => el("li", null,
    el("button", { type: "button", id: "open-" + b.name, onclick: () => open(b) }, el("span", { class: "hidden" }, "open "), dom.data(b.name)), " ",
    el("span", { class: "soft" }, Object.keys(b.brief).length + " blanks filled", b.files.length > 0 && (b.files.length === 1 ? ", one file" : `, ${b.files.length} files`), b.way && ", a route"), " ",
    el("button", { type: "button", class: "quiet", onclick: () => remove(b.name) }, "delete", el("span", { class: "hidden" }, " ", dom.data(b.name))));

  function show() {
    const place = dom.byId("boards");
    const list = keep.boards();
    const name = dom.byId("board-name");
    dom.renew(place, ["board-name"],
      el("summary", null, "Boards that you keep", list.length > 0 && `: ${list.length}`),
      el("form", { class: "deeds", onsubmit: save },
        el("label", null, "Keep this board as ", el("input", { type: "text", id: "board-name", maxlength: "60", autocomplete: "off", value: name ? name.value : null })),
        el("button", { type: "submit", id: "board-keep" }, "Keep it"),
        el("button", { type: "button", id: "board-copy", onclick: copy }, "Copy a link to this question")),
      el("input", { type: "text", id: "board-link", class: "wide", readonly: true, hidden: true, "aria-label": "the link to this question" }),
      el("p", { id: "board-says", role: "status" }, dom.data(told)),
      list.length > 0 && el("ul", { class: "boards" }, list.map(row)),
      el("p", { class: "soft" }, "They stay in this browser. The link has the brief and the screen behind its #, which is sent nowhere; parts and routes of your own are not in it."));
    place.open = place.open || told !== "";
  }

  return { show, before };
})();
