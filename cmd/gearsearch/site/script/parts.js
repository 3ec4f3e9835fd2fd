"use strict";

// parts is the second screen: tables of parts, one for each slot and each kind that fills it. A press
// on a part sets it aside or takes it back; the reader's own parts are edited in
// place.
const parts = (() => {
  const el = dom.el;
  const titles = {
    battery: "Packs", controller: "Speed controllers", motor: "Motors", gear_drive: "Gear drives", motor_pulley: "Motor pulleys", motor_sprocket: "Motor sprockets",
    wheel_pulley: "Wheel pulleys", wheel_sprocket: "Wheel sprockets", pulley: "Pulleys", sprocket: "Sprockets", mount: "Mounts", belt: "Belts", chain: "Chains", wheel: "Wheels", cell: "Cells", profile: "Tooth profiles of your own",
    bms: "Protection boards", switch: "Switches", fuse: "Fuses", connector: "Connectors", wire: "Wires", charger: "Chargers", remote: "Remotes", box: "Boxes",
  };
  const cheap = 300; // ms: what a count of all builds may take for others to follow it unasked
  const shelves = new Map(); // by name: {name, size, node, find, parts, found, keys, more, opens, gone, open}
  let used = new Map(); // how many of the shown builds have a part, by id
  let doubts = {}; // by id
  let turn = 0; // of the catalog and the brief

  const titleOf = (name) => titles[name] || name;
  const one = (name) => name.replace(/_/g, " ");

  // load fetches the shelves of the catalog in use.
  async function load() {
    turn++;
    crate();
    const sizes = state.contents.shelves;
    const same = sizes.length === shelves.size && sizes.every((size) => shelves.has(size.name));
    if (!same) shelves.clear();
    for (const size of sizes) {
      const { name } = size;
      if (same) shelves.get(name).size = size;
      else shelves.set(name, { name, size, node: shelf(name), find: "", parts: [], found: 0, keys: [], more: false, opens: null, gone: null, open: null });
    }
    if (!same) dom.put(dom.byId("shelves"), [...shelves.values()].map((s) => s.node));
    await Promise.all([...shelves.values()].map((s) => fetch(s)));
    look();
  }

  // shelf is the place of a table, where rows of a spreadsheet may be pasted.
  function shelf(name) {
    const node = el("section", { class: "shelf", "aria-labelledby": "shelf-" + name });
    node.addEventListener("paste", (event) => {
      const text = event.clipboardData ? event.clipboardData.getData("text/plain") : "";
      if (!/[\t\n]/.test(text.trim()) || event.target.matches("textarea")) return;
      event.preventDefault();
      intake.offer({ text, ...rowsFor(shelves.get(name)) });
    });
    return node;
  }

  // rowsFor is what rows of a spreadsheet are for a shelf.
  const rowsFor = (shelf) => ({ shelf: shelf.name, kind: shelf.size.kind, slot: shelf.size.slot || "", order: columns(shelf).map((k) => k.key) });

  // crate brings the place for files up to the state.
  const crate = () => dom.renew(dom.byId("crate"), ["choose"], files.crate());

  // fetch asks for the parts of a shelf: from the first, or those behind what
  // it has.
  async function fetch(shelf, behind) {
    const { size, find } = shelf;
    const reply = await wire.ask({ ask: "shelf", slot: size.slot || "", kind: size.kind, find, from: behind ? shelf.parts.length : 0 });
    if (!reply.answer || find !== shelf.find) return;
    shelf.parts = behind ? [...shelf.parts, ...reply.answer.parts] : reply.answer.parts;
    shelf.found = reply.answer.found;
    shelf.keys = reply.answer.keys;
    draw(shelf);
  }

  // look asks what is doubtful about the parts that are not the demo's, and, where
  // that is cheap, how many builds the reader's own are in.
  async function look() {
    const mine = turn;
    if (!state.files.length || dom.byId("parts").hidden) return;
    const catalog = await program.catalog();
    const args = ["catalog", "check", ...catalog.paths.filter((p) => p !== "demo"), "--format", "json"];
    const reply = await program.run({ args, files: catalog.files }).answer;
    if (mine !== turn || reply.code !== 0) return;
    const found = JSON.parse(reply.out);
    doubts = {};
    for (const [list, idle] of [[found.unlikely, false], [found.idle, true]]) {
      for (const d of list) {
        for (const id of d.ids) (doubts[id] = doubts[id] || []).push({ key: d.key, text: d.message.replace(/^[^:]*: /, ""), hint: d.hint, basis: d.basis, idle });
      }
    }
    shelves.forEach((s) => draw(s));
  }

  // opening asks how many builds each part of a shelf is in, as shortlist says.
  async function opening(shelf) {
    const mine = turn;
    const command = await program.command({ words: ["shortlist", shelf.size.slot, "--format", "json"] }, state.question(""));
    if (command.problems) return complainOf(shelf, command);
    const reply = await program.run(command).answer;
    if (mine !== turn || reply.cancelled) return;
    if (!reply.out) return complainOf(shelf, { fault: reply.fault || reply.err.trim() });
    shelf.opens = {};
    for (const part of JSON.parse(reply.out).parts) shelf.opens[part.id] = part.feasible;
    draw(shelf);
  }

  // home is the shelf of a part of the reader's own: of those of its kind the one for parts
  // that say what it says, else the first.
  function home({ kind, cells }) {
    const list = [...shelves.values()].filter((s) => s.size.kind === kind);
    return list.find((s) => Object.entries(s.size.says || {}).every(([key, word]) => cells[key] === word)) || list[0];
  }

  // mine are the reader's own parts of a shelf, as indexes.
  const mine = (shelf) => [...state.own.keys()].filter((i) => home(state.own[i]) === shelf);

  // beside are the shelves that are not empty of parts for the same slot.
  const beside = (shelf) => [...shelves.values()].filter((s) => shelf.size.slot && s.size.slot === shelf.size.slot && s.size.n > 0);

  // columns are the keys that a table shows: those that a part has or must have,
  // or all.
  function columns(shelf) {
    const rows = mine(shelf).map((i) => state.own[i].cells);
    return shelf.keys.filter((k) => shelf.more || (k.key !== "id" && !(k.key in (shelf.size.says || {})) && (k.required || k.used || k.key === "name" || k.key === "price" || rows.some((cells) => cells[k.key]))));
  }

  // inPlay tells whether the brief leaves a part on its shelf.
  function inPlay(slot, id) {
    const keep = state.list("keep." + slot);
    return (!keep.length || keep.includes(id)) && !state.list("avoid." + slot).includes(id);
  }

  function toggle(slot, id) {
    const keep = state.list("keep." + slot);
    const avoid = state.list("avoid." + slot);
    if (avoid.includes(id)) write("avoid." + slot, avoid.filter((x) => x !== id));
    else if (!keep.length) write("avoid." + slot, [...avoid, id]);
    else if (!keep.includes(id)) write("keep." + slot, [...keep, id]);
    else if (keep.length > 1) write("keep." + slot, keep.filter((x) => x !== id));
    else return; // the last one in play
    state.changed();
  }

  function only(slot, id) {
    write("keep." + slot, [id]);
    write("avoid." + slot, []);
    state.changed();
  }

  function all(slot) {
    write("keep." + slot, []);
    write("avoid." + slot, []);
    state.changed();
  }

  function write(key, ids) {
    if (ids.length) state.brief[key] = ids.join(",");
    else delete state.brief[key];
  }

  // begin adds a row of the reader's own, with cells to begin with, and goes to it.
  function begin(shelf, cells) {
    const i = own.add(shelf.size.kind, { ...shelf.size.says, ...cells });
    draw(shelf);
    const first = dom.byId(`cell-${i}-name`);
    first.focus();
    first.select();
    if (Object.keys(cells || {}).length) own.commit();
  }

  // from begins a row with what a part of the catalog has.
  function from(shelf, part) {
    const taken = (id) => state.own.some((d) => d.cells.id === id);
    let id = part.id + "-own";
    for (let n = 2; taken(id); n++) id = `${part.id}-own-${n}`;
    begin(shelf, { ...part.cells, id });
  }

  async function away(shelf, i) {
    shelf.gone = { i, row: own.remove(i) };
    draw(shelf);
    const back = dom.byId("back-" + shelf.name);
    if (back) back.focus();
    await own.check();
    files.use(true);
  }

  function back(shelf) {
    own.put(shelf.gone.i, shelf.gone.row);
    shelf.gone = null;
    draw(shelf);
    own.commit();
  }

  // about says over a table what a key means.
  function about(shelf, info) {
    const unless = info.default ? `; ${info.default} unless given` : "";
    const words = info.words ? `: ${info.words.join(", ")}` : "";
    dom.put(dom.byId("about-" + shelf.name),
      el("b", null, info.label), info.unit && ` (${info.unit})`, ": ", info.meaning, words, info.range && `; ${info.range}`, info.required ? "; must be there" : unless, info.unit && info.number && ". Other units with their name: a decimal comma works too.");
  }

  // control is where a cell of the reader's own is filled in.
  function control(shelf, i, info, called) {
    const now = state.own[i].cells[info.key] || "";
    const id = `cell-${i}-${info.key}`;
    const common = { id, "data-row": i, "data-cell": info.key, "aria-label": [info.label, info.unit, "of " + called].filter(Boolean).join(", "), "aria-describedby": `notes-${i}-${info.key}` };
    const words = info.words || (info.is === "true or false" ? ["yes", "no"] : null);
    let node;
    if (words) {
      const options = ["", ...words, ...(now && !words.includes(now) ? [now] : [])];
      node = el("select", common, options.map((w) => el("option", { value: w }, w)));
      node.value = now;
    } else {
      node = el("input", { ...common, type: "text", autocomplete: "off", spellcheck: "false", inputmode: info.number ? "decimal" : null, placeholder: info.required ? "must be there" : null });
      node.value = now;
      node.style.width = Math.min(22, Math.max(info.number ? 7 : 10, now.length + 2)) + "ch";
    }
    let before = now;
    node.addEventListener("input", () => own.set(i, info.key, node.value));
    node.addEventListener("focus", () => {
      before = state.own[i] ? state.own[i].cells[info.key] || "" : "";
      about(shelf, info);
    });
    node.addEventListener("keydown", (event) => {
      if (event.key === "Enter" && !event.isComposing) {
        event.preventDefault();
        down(shelf, i, info.key);
      } else if (event.key === "Escape") {
        event.preventDefault();
        undo(shelf, i, info.key, before);
      }
    });
    return node;
  }

  // down takes what stands in a row and goes to the row below, or to a new one.
  function down(shelf, i, key) {
    own.leave(i);
    const rows = mine(shelf);
    const next = rows[rows.indexOf(i) + 1];
    own.commit();
    if (next === undefined && blank(i)) return;
    if (next === undefined) begin(shelf);
    else dom.byId(`cell-${next}-${key}`).focus();
  }

  // undo puts back what stood in a cell; an empty row that is left so goes away.
  function undo(shelf, i, key, before) {
    if ((state.own[i].cells[key] || "") !== before) {
      own.set(i, key, before);
      draw(shelf);
      own.commit();
    } else if (blank(i)) {
      own.remove(i);
      draw(shelf);
      dom.byId("add-" + shelf.name).focus();
      own.commit();
    }
  }

  // blank tells whether nothing has been filled into a row.
  const blank = (i) => Object.keys(state.own[i].cells).every((key) => key in (home(state.own[i]).size.says || {}));

  // remarks are what is to be said of a part as a whole.
  function remarks(shelf, id) {
    const count = used.get(id);
    const opened = shelf.opens ? shelf.opens[id] : undefined;
    return [
      count && el("span", { class: "told note" }, `in ${count} of the best`),
      opened !== undefined && el("span", { class: "note" }, opened === 0 ? "in no build that does it" : opened === 1 ? "in 1 build that does it" : `in ${counted(opened)} builds that do it`),
      (doubts[id] || []).filter((d) => !d.key).map(doubt),
    ];
  }

  // counted is a number with gaps between its thousands.
  const counted = (n) => String(n).replace(/\B(?=(\d{3})+$)/g, "\u202f");

  // doubt is what catalog check says, with what it goes by.
  const doubt = (d) => el("span", { class: "note doubt" }, el("b", null, d.idle ? "of no use: " : "unlikely: "), dom.data(d.text), d.hint && ["; ", d.hint], d.basis && el("span", { class: "soft" }, " (", d.basis, ")"));

  // aboutCell are the doubts about a key of a part.
  const aboutCell = (id, key) => (doubts[id] || []).filter((d) => d.key === key).map(doubt);

  // face is the press that sets a part aside or takes it back.
  function face(slot, id) {
    if (!slot) return el("span", { class: "id" }, dom.data(id));
    return el("button", { type: "button", class: "face", id: "face-" + id, "aria-pressed": String(inPlay(slot, id)), onclick: () => toggle(slot, id) }, el("span", { class: "id" }, dom.data(id)));
  }

  // lead is the first cell of a row: the part, and behind a press what else can be
  // done with it.
  function lead(shelf, id, deeds) {
    const open = shelf.open === id;
    return [
      el("span", { class: "lead" }, face(shelf.size.slot, id),
        el("button", { type: "button", class: "quiet more", id: "more-" + id, "aria-expanded": String(open), "aria-label": "more about " + id, onclick: () => {
          shelf.open = open ? null : id;
          draw(shelf);
        } }, el("span", { "aria-hidden": "true" }, "⋯"))),
      open && el("span", { class: "under" }, shelf.size.slot && el("button", { type: "button", class: "quiet", id: "only-" + id, onclick: () => only(shelf.size.slot, id) }, "only this", el("span", { class: "hidden" }, ": ", dom.data(id))), deeds),
    ];
  }

  // given is a row of the catalog.
  function given(shelf, keys, part) {
    const { slot, n, invented } = shelf.size;
    const on = !slot || inPlay(slot, part.id);
    const mark = part.invented && invented < n; // else the heading has it
    const text = (k) => {
      if (k.key === "price" && part.owned) return "owned";
      if (k.key === "name") return [dom.data(part.name || ""), mark && el("span", { class: "soft" }, part.name ? ", " : "", "invented")];
      return dom.data(part.cells[k.key] || "");
    };
    return el("tr", { class: on ? "part" : "part aside" },
      el("th", { scope: "row" },
        lead(shelf, part.id, el("button", { type: "button", class: "quiet", id: "from-" + part.id, onclick: () => from(shelf, part) }, "start from this", el("span", { class: "hidden" }, ": ", dom.data(part.id)))),
        remarks(shelf, part.id)),
      keys.map((k) => el("td", { class: k.number ? "number" : k.key === "name" || k.key === "note" ? "words" : null }, text(k), aboutCell(part.id, k.key))));
  }

  // filled is a row of the reader's own.
  function filled(shelf, keys, i) {
    const id = own.of(i).id;
    const called = id || "the new part";
    const gone = el("button", { type: "button", class: "quiet", id: `away-${i}`, onclick: () => away(shelf, i) }, "remove", el("span", { class: "hidden" }, ": ", dom.data(called)));
    const row = el("tr", { class: "part own", "data-own": i },
      el("th", { scope: "row" }, id ? lead(shelf, id, gone) : [el("span", { class: "soft" }, "new "), gone],
        el("span", { class: "says", id: `notes-${i}-` })),
      keys.map((k) => el("td", null, control(shelf, i, k, called), el("span", { class: "says", id: `notes-${i}-${k.key}` }))));
    row.addEventListener("focusout", (event) => calm(() => {
      if (!row.contains(event.relatedTarget) && state.own[i] && !blank(i)) {
        own.leave(i);
        note(shelf, i);
      }
      own.commit();
    }));
    return row;
  }

  // note brings what is said of a row of the reader's own up to what is known.
  function note(shelf, i) {
    const wrong = own.wrong(i);
    const { id, said, copied } = own.of(i);
    const row = shelf.node.querySelector(`[data-own="${i}"]`);
    if (!row) return;
    row.classList.toggle("unread", wrong.length > 0);
    dom.put(dom.byId(`notes-${i}-`),
      wrong.length > 0 && el("span", { class: "note bad" }, "not in use yet"), wrong.filter((w) => !dom.byId(`cell-${i}-${w.key}`)).map(fault),
      copied && el("span", { class: "note soft" }, "invented, as long as it has the name of the demo part"), !wrong.length && remarks(shelf, id));
    for (const control of row.querySelectorAll("[data-cell]")) {
      const key = control.dataset.cell;
      const own = wrong.filter((w) => w.key === key);
      if (own.length) control.setAttribute("aria-invalid", "true");
      else control.removeAttribute("aria-invalid");
      dom.put(dom.byId(`notes-${i}-${key}`), own.map(fault), !own.length && said[key] && el("span", { class: "note soft" }, key === "id" ? `called ${said[key]}` : `read as ${said[key]}`), !wrong.length && aboutCell(id, key));
    }
  }

  const fault = (w) => el("span", { class: "note bad" }, dom.data(w.message), w.hint && [" – ", dom.data(w.hint)]);

  // head is the row of keys; a press on one says what it means.
  function head(shelf, keys) {
    return el("thead", null, el("tr", null, el("th", { scope: "col" }, el("span", { class: "key" }, "part")),
      keys.map((k) => el("th", { scope: "col", class: k.number ? "number" : null },
        el("button", { type: "button", class: "key", id: `key-${shelf.name}-${k.key}`, onclick: () => about(shelf, k) }, k.label, k.required && el("span", { class: "must" }, el("span", { "aria-hidden": "true" }, "*"), el("span", { class: "hidden" }, ", must be there")),
          el("span", { class: "soft" }, " ", k.key === "price" ? state.contents.currency : k.unit || ""))))));
  }

  // calm does something at once, or, while something is pressed, once it is let go:
  // what moves meanwhile is not what is pressed.
  let pressed = false;
  let due = [];
  function calm(what) {
    if (pressed) due.push(what);
    else what();
  }
  addEventListener("pointerdown", () => (pressed = true), true);
  for (const end of ["pointerup", "pointercancel"]) {
    addEventListener(end, () => {
      pressed = false;
      const now = due;
      due = [];
      if (now.length) setTimeout(() => now.forEach((what) => what()));
    }, true);
  }

  const draw = (shelf) => calm(() => redraw(shelf));

  function redraw(shelf) {
    const { size, node, name } = shelf;
    if (!shelf.keys.length) return;
    const title = titleOf(name);
    const keep = state.list("keep." + size.slot);
    const avoid = state.list("avoid." + size.slot);
    const rail = node.querySelector(".scroll");
    const { scrollLeft, scrollTop } = rail || {};
    const said = node.querySelector(".about");
    const find = el("input", { type: "search", id: "find-" + name, value: shelf.find, placeholder: "find", "aria-label": "find in " + title, autocomplete: "off" });
    find.addEventListener("input", () => {
      shelf.find = find.value;
      fetch(shelf);
    });
    const near = beside(shelf);
    const limited = (keep.length || avoid.length) && (size.n > 0 || !near.length);
    const several = near.length > 1 ? near.map((s) => titleOf(s.name).toLowerCase()).join(" and ") : "";
    const rows = mine(shelf);
    const keys = columns(shelf);
    const hidden = shelf.keys.length - keys.length;
    const others = shelf.parts.filter((p) => p.file !== own.file);
    const behind = shelf.found - shelf.parts.length;
    const button = (id, text, onclick, more) => el("button", { type: "button", id: `${id}-${name}`, onclick, ...more }, text, el("span", { class: "hidden" }, ": " + title));
    dom.renew(node, ["add-" + name],
      el("h2", { id: "shelf-" + name }, title, " ", el("span", { class: "soft" }, size.n === 0 ? "none" : size.n, size.n > 0 && size.invented === size.n && ", invented")),
      size.n > 12 && el("span", { class: "finder" }, find),
      limited ? el("p", { class: "limits" }, keep.length ? `only ${keep.length} of ${several || "them"} in play ` : `${avoid.length} ${several && `of ${several} `}set aside `, el("button", { type: "button", class: "quiet", id: "all-" + name, onclick: () => all(size.slot) }, "all in play", el("span", { class: "hidden" }, ": " + title))) : null,
      el("p", { class: "wrong", role: "alert", "data-shelf": name }),
      rows.length + others.length > 0 && [
        el("p", { class: "about soft", id: "about-" + name, role: "status" }, said && [...said.childNodes]),
        el("div", { class: "scroll", tabindex: "0", role: "group", "aria-label": title },
          el("table", { class: "parts", "aria-labelledby": "shelf-" + name }, head(shelf, keys),
            el("tbody", null, rows.map((i) => filled(shelf, keys, i)), others.map((p) => given(shelf, keys, p))))),
      ],
      el("p", { class: "deeds" },
        button("add", `Add a ${one(name)}`.replace("a bms", "a protection board"), () => begin(shelf)),
        button("paste", "Paste rows", () => intake.open(rowsFor(shelf))),
        behind > 0 && button("rest", `${behind} more`, () => fetch(shelf, true)),
        shelf.keys.length > 0 && rows.length + others.length > 0 && (hidden > 0 || shelf.more) && button("keys", shelf.more ? "fewer keys" : `${hidden} more keys`, () => {
          shelf.more = !shelf.more;
          draw(shelf);
        }, { "aria-expanded": String(shelf.more) }),
        size.slot && size.n > 0 && button("opens", "What does each open?", () => opening(shelf)),
        rows.length > 0 && button("csv", "Save yours as CSV", () => saveTable(shelf)),
        shelf.gone && [el("span", { class: "soft" }, "Removed ", dom.data(shelf.gone.row.cells.name || shelf.gone.row.cells.id || "a part"), ". "), button("back", "Put it back", () => back(shelf))]));
    rows.forEach((i) => note(shelf, i));
    if (rail && node.querySelector(".scroll")) Object.assign(node.querySelector(".scroll"), { scrollLeft, scrollTop });
  }

  async function saveTable(shelf) {
    const drafts = mine(shelf).map((i) => state.own[i]);
    const reply = await wire.ask({ ask: "save", what: "own-table", kind: shelf.size.kind, drafts, files: state.files, demo: state.demo });
    if (reply.answer) dom.save(reply.answer.name, reply.answer.text);
    else complainOf(shelf, reply);
  }

  // complainOf says on a shelf why there is no answer.
  function complainOf(shelf, reply) {
    const p = (reply.problems || [])[0];
    dom.put(shelf.node.querySelector(".wrong"), dom.data(p ? p.message + (p.hint ? " – " + p.hint : "") : reply.fault || "the engine does not answer"));
  }

  // show brings the shelves up to the state, if they are seen; showing costs
  // more than computing.
  let old = false;
  function show() {
    turn++;
    shelves.forEach((shelf) => (shelf.opens = null));
    old = dom.byId("parts").hidden;
    if (!old) shelves.forEach((shelf) => draw(shelf));
  }

  // seen is called when the screen comes up.
  function seen() {
    if (old) show();
    look();
    follow();
  }

  // tell says which parts the shown builds are made of.
  function tell(ranked) {
    used = new Map();
    for (const b of ranked) for (const id of b.parts) used.set(id, (used.get(id) || 0) + 1);
    show();
    follow();
  }

  // follow asks what the reader's own parts open, once all else is answered, where
  // that is cheap.
  function follow() {
    const mineNow = turn;
    const wait = () => {
      if (mineNow !== turn || dom.byId("parts").hidden) return;
      if (document.body.dataset.busy !== "false") return setTimeout(wait, 100);
      if (Number(document.body.dataset.took) > cheap) return;
      for (const shelf of shelves.values()) if (shelf.size.slot && !shelf.opens && mine(shelf).length) opening(shelf);
    };
    if (state.own.length) setTimeout(wait, 100);
  }

  // complain says on a shelf what is wrong with what is kept of it.
  function complain(problems) {
    for (const node of document.querySelectorAll("[data-shelf]")) {
      const own = problems.filter((p) => p.key === "keep." + node.dataset.shelf || p.key === "avoid." + node.dataset.shelf);
      dom.put(node, own.map((p) => dom.data(p.message + (p.hint ? " – " + p.hint : "") + " ")));
    }
  }

  // find is where to put right what is wrong with a slot: the way back to all of
  // its parts, else its first part.
  const find = (slot) => [...shelves.values()].filter((s) => s.size.slot === slot).map((s) => s.node.querySelector(".limits button, .face")).find(Boolean);

  own.onread(() => shelves.forEach((shelf) => mine(shelf).forEach((i) => note(shelf, i))));

  // kinds are the kinds of parts, each once, and keysOf the keys of one.
  const kinds = () => [...new Set([...shelves.values()].map((s) => s.size.kind))].map((kind) => ({ kind, title: titleOf(kind) }));
  const keysOf = (kind) => ([...shelves.values()].find((s) => s.size.kind === kind) || { keys: [] }).keys;

  return { load, show, seen, tell, complain, find, crate, kinds, keysOf, titleOf, home };
})();
