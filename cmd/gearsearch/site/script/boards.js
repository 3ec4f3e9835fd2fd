"use strict";

// boards are what the reader keeps under names: a brief with the files and the build
// that go with it. And a link to the question as it stands.
const boards = (() => {
  const el = dom.el;
  let outcome = ""; // what became of the last deed

  // now is the board as it stands.
  function now(name) {
    const { brief, strict, every, top, demo, files, build } = state;
    return { name, brief: { ...brief }, strict, every, top, demo, files, build, way: way.of(brief) };
  }

  // say tells what became of a deed, and shows the boards as they are now.
  function say(text) {
    outcome = text;
    show();
  }

  // hold keeps a board: "whole", "bare" without its files where there is no room for them,
  // or not at all, "".
  function hold(board) {
    const list = keep.boards().filter((b) => b.name !== board.name);
    if (keep.keepBoards([...list, board])) return "whole";
    return (board.files.length || board.way) && keep.keepBoards([...list, { ...board, files: [], demo: true, way: null }]) ? "bare" : "";
  }

  function save(event) {
    event.preventDefault();
    const name = dom.byId("board-name").value.trim();
    if (!name) return say("Give it a name first.");
    const held = hold(now(name));
    if (held === "whole") return say(`Kept as ${name}${way.of(state.brief) ? ", with its route" : ""}.`);
    if (held) return say(`Kept as ${name}, without your files: they are too large.`);
    say("Nothing is kept: this browser has no room for it. Save the brief as a file.");
  }

  // open puts a board in the place of what is there. The reader's own parts stay, and those
  // that were the board's come back.
  async function open(board) {
    const files_ = JSON.stringify(state.files) !== JSON.stringify(board.files) || state.demo !== board.demo;
    const { name, own: _, ...rest } = board;
    Object.assign(state, { ...rest, brief: { ...board.brief }, files: [...board.files] });
    const mine = board.files.find((f) => f.name === own.file);
    if (mine) await own.again(mine);
    address.put();
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
    hold({ ...kept, name });
    outcome = `The link has brought its own question. Yours is kept as “${name}”.`;
  }

  let held = ""; // what hold made of the board that a build with parts of its own took the place of

  // aside keeps what is in use as a board where a build brings its own parts and brief.
  function aside(from) {
    held = hold(now(asideName(from)));
    show();
  }

  const asideName = (from) => "before " + from;

  // told says of a build that it has brought its parts and its brief, and leads back.
  function told(from) {
    const name = asideName(from);
    const kept = { whole: "What was here before is kept as a board.", bare: "What was here before is kept as a board, but for your files, which are too large.", "": "What was here before is not kept: this browser has no room for it." };
    return el("p", { id: "carried" }, dom.data(from), " has brought its parts and its brief. ", kept[held], " ",
      held && el("button", { type: "button", id: "carried-back", onclick: () => open(keep.boards().find((b) => b.name === name)) }, "Back to it"));
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
      el("p", { id: "board-says", role: "status" }, dom.data(outcome)),
      list.length > 0 && el("ul", { class: "boards" }, list.map(row)),
      el("p", { class: "soft" }, "They stay in this browser. The link has the brief and the screen behind its #, which is sent nowhere; parts and routes of your own are not in it."));
    place.open = place.open || outcome !== "";
  }

  return { show, before, aside, told };
})();
