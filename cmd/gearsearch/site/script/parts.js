"use strict";

// parts is the second screen: the parts on shelves, one for each slot. A press
// on a part sets it aside or takes it back.
const parts = (() => {
  const el = dom.el;
  const titles = {
    battery: "Packs", controller: "Speed controllers", motor: "Motors", gear_drive: "Gear drives", motor_pulley: "Motor pulleys",
    wheel_pulley: "Wheel pulleys", mount: "Mounts", belt: "Belts", wheel: "Wheels", cell: "Cells", profile: "Tooth profiles of your own",
    bms: "Protection boards", switch: "Switches", fuse: "Fuses", connector: "Connectors", wire: "Wires", charger: "Chargers", remote: "Remotes", box: "Boxes",
  };
  const telling = 4; // facts on a tag
  const shelves = new Map(); // by slot, or kind: {size, node, find, parts, found}
  let used = new Map(); // how many of the shown builds have a part, by id

  const titleOf = (size) => titles[size.slot || size.kind] || size.kind;

  // load fetches the shelves of the catalog in use.
  async function load() {
    crate();
    shelves.clear();
    for (const size of state.contents.shelves) {
      if (size.n === 0 && !size.slot) continue;
      shelves.set(size.slot || size.kind, { size, node: el("section", { class: "shelf" }), find: "", parts: [], found: 0 });
    }
    dom.put(dom.byId("shelves"), [...shelves.values()].map((s) => s.node));
    await Promise.all([...shelves.values()].map((s) => fetch(s)));
  }

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
    draw(shelf);
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

  // mark is the mark of a part of the demo where others stand beside it; else
  // its shelf has it.
  const mark = (size, part) => part.invented && size.invented < size.n && ", invented";

  function tag(size, part) {
    const slot = size.slot;
    const on = !slot || inPlay(slot, part.id);
    const count = used.get(part.id);
    const body = [
      el("span", { class: "id" }, dom.data(part.id)),
      part.name && el("span", { class: "soft" }, dom.data(part.name)),
      el("span", { class: "facts" }, part.facts.slice(0, telling).map((f, i) => [i ? ", " : "", dom.data(f)])),
      el("span", { class: "cost" }, part.owned ? "owned" : part.price || "no price", mark(size, part), count && el("b", { class: "told" }, `, in ${count} of the best`)),
    ];
    const rest = [...part.facts.slice(telling), part.note].filter(Boolean);
    const more = rest.length > 0 && el("details", { class: "more" }, el("summary", null, "more", el("span", { class: "hidden" }, " about ", dom.data(part.id))), el("p", null, rest.map((f, i) => [i ? ", " : "", dom.data(f)])));
    if (!slot) return el("li", { class: "tag" }, el("div", { class: "face" }, body), el("div", { class: "under" }, more));
    return el("li", { class: on ? "tag" : "tag aside" },
      el("button", { type: "button", class: "face", id: "face-" + part.id, "aria-pressed": String(on), onclick: () => toggle(slot, part.id) }, body),
      el("div", { class: "under" }, el("button", { type: "button", class: "quiet", id: "only-" + part.id, onclick: () => only(slot, part.id) }, "only this", el("span", { class: "hidden" }, ": ", dom.data(part.id))), more));
  }

  function draw(shelf) {
    const { size, node } = shelf;
    const name = size.slot || size.kind;
    const keep = state.list("keep." + name);
    const avoid = state.list("avoid." + name);
    const rail = node.querySelector(".rail");
    const along = rail ? rail.scrollLeft : 0;
    const find = el("input", { type: "search", id: "find-" + name, value: shelf.find, placeholder: "find", "aria-label": "find in " + titleOf(size), autocomplete: "off" });
    find.addEventListener("input", () => {
      shelf.find = find.value;
      fetch(shelf);
    });
    const limited = size.slot && (keep.length || avoid.length);
    const first = shelf.parts.length ? ["face-" + shelf.parts[0].id] : [];
    dom.renew(node, first,
      el("h2", null, titleOf(size), " ", el("span", { class: "soft" }, size.n === 0 ? "none" : size.n, size.n > 0 && size.invented === size.n && ", invented")),
      size.n > 12 && el("span", { class: "finder" }, find),
      limited ? el("p", { class: "limits" }, keep.length ? `only ${keep.length} of them in play ` : `${avoid.length} set aside `, el("button", { type: "button", class: "quiet", id: "all-" + name, onclick: () => all(size.slot) }, "all in play", el("span", { class: "hidden" }, ": " + titleOf(size)))) : null,
      el("p", { class: "wrong", role: "alert", "data-shelf": name }),
      size.n > 0 && el("ul", { class: "rail", tabindex: size.slot ? null : "0", "aria-label": titleOf(size) }, shelf.parts.map((p) => tag(size, p)),
        shelf.parts.length < shelf.found && el("li", { class: "tag" }, el("button", { type: "button", class: "face", id: "rest-" + name, onclick: () => fetch(shelf, true) }, `${shelf.found - shelf.parts.length} more`))));
    if (rail) node.querySelector(".rail").scrollLeft = along;
  }

  // show brings the shelves up to the state, if they are seen; showing costs
  // more than computing.
  let old = false;
  function show() {
    old = dom.byId("parts").hidden;
    if (!old) shelves.forEach((shelf) => shelf.parts.length && draw(shelf));
  }

  // seen is called when the screen comes up.
  const seen = () => old && show();

  // tell says which parts the shown builds are made of.
  function tell(ranked) {
    used = new Map();
    for (const b of ranked) for (const id of b.parts) used.set(id, (used.get(id) || 0) + 1);
    show();
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
  function find(slot) {
    const shelf = shelves.get(slot);
    return shelf && shelf.node.querySelector(".limits button, .rail button");
  }

  return { load, show, seen, tell, complain, find, crate };
})();
