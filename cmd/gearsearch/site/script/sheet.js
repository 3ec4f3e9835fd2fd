"use strict";

// sheet is all about one build as the engine tells it, with what is asked for
// when it is opened.
const sheet = (() => {
  const el = dom.el;

  // save saves a build, what: "build" with its parts and the brief, which opens here and on
  // the command line without any other file, or "sheet", all about it.
  async function save(question, what) {
    const reply = await wire.ask({ ...question, ask: "save", what });
    if (!reply.answer) return;
    dom.save(reply.answer.name, reply.answer.text);
    if (what === "build" && question.way) dom.save(question.way.name, program.bytes(question.way.data));
  }

  // around is what else is to be bought, and what to take care of.
  function around(a) {
    const each = someInvented(a.needs);
    return [el("div", { class: "scroll", tabindex: "0", role: "group", "aria-label": "What the build needs around it" },
      el("table", { class: "around" },
        el("caption", null, "What it needs around it", a.needs.some((n) => n.invented) && (each ? ", some of it invented" : ", every part named here invented")),
        el("thead", null, el("tr", null, ["pieces", "part, or what it must be", "price"].map((h, i) => el("th", { scope: "col", class: i === 1 ? null : "number" }, h)))),
        el("tbody", null, a.needs.map((n) => el("tr", null,
          el("td", { class: "number" }, n.pieces),
          el("th", { scope: "row" }, n.id && [el("span", { class: "id" }, dom.data(n.id)), " "], el("span", { class: "soft" }, n.for, n.name && [", ", dom.data(n.name)], n.note && [", ", dom.data(n.note)], each && n.invented && ", invented"), n.link && [" ", dom.link(n.link)]),
          el("td", { class: "number" }, n.owned ? "owned" : n.price)))),
        el("tfoot", null, el("tr", null, el("td"), el("th", { scope: "row" }, "the build and the parts around it", a.atLeast && ", at least", a.invented && ", invented prices"), el("td", { class: "number" }, a.total))))),
    a.care.length > 0 && el("details", null, el("summary", null, "Building and riding it"), el("ul", null, a.care.map((c) => el("li", null, dom.data(c)))))];
  }

  const unfolded = new Set(); // what is to stay open when a sheet is drawn anew

  // unfold is a part of a sheet that is asked for when it is opened: fill(place)
  // asks and shows.
  function unfold(name, build, title, fill) {
    const key = name + " " + build.file;
    const place = el("div", { "aria-live": "polite" });
    const node = el("details", { class: "unfold", "data-unfold": name, open: unfolded.has(key) }, el("summary", null, title), place);
    let begun = false;
    const show = () => {
      if (node.open) unfolded.add(key);
      else unfolded.delete(key);
      if (!node.open || begun) return;
      begun = true;
      fill(place);
    };
    node.addEventListener("toggle", show);
    return node;
  }

  const trouble = (reply) => (reply.problems ? reply.problems[0].text : reply.fault || "they were stopped");

  // curves draws a build, one drawing after the other.
  async function curves(place, question) {
    const wait = el("p", { class: "soft" }, "Fetching the program, which draws …");
    const drawn = el("div", { class: "curves" });
    dom.put(place, drawn, wait);
    for (const what of artist.kinds(question)) {
      const reply = await artist.ask({ ...question, ask: "drawing", what, width: place.clientWidth });
      if (!reply.answer) {
        dom.put(wait, "No curves: ", dom.data(trouble(reply)));
        return;
      }
      drawn.append(reply.answer.svg ? artist.figure(reply.answer) : el("p", { class: "soft" }, `No drawing of ${what}: `, dom.data(reply.answer.missing)));
    }
    wait.remove();
    drawn.dataset.done = "true";
  }

  // varied tells what becomes of a build when parts and rider vary.
  async function varied(place, question) {
    dom.put(place, el("p", { class: "soft" }, "Drawing samples …"));
    const reply = await wire.ask({ ...question, ask: "vary" });
    if (!reply.answer) return dom.put(place, el("p", null, dom.data(trouble(reply))));
    const a = reply.answer;
    const table = (caption, heads, rows) => el("div", { class: "scroll", tabindex: "0", role: "group", "aria-label": caption }, el("table", null,
      el("caption", null, caption),
      el("thead", null, el("tr", null, heads.map((h, i) => el("th", { scope: "col", class: i ? "number" : null }, h)))),
      el("tbody", null, rows.map(([first, ...rest]) => el("tr", null, el("th", { scope: "row" }, first), rest.map((t) => el("td", { class: "number" }, t)))))));
    const weak = a.checks.filter((c) => !c.always);
    dom.put(place,
      el("p", null, "It passes every check in ", el("b", null, a.share), ` of ${a.draws} draws; each value is drawn evenly from the spread given in the fine print of the ride.`),
      weak.length > 0 && table("Not in every draw", ["check", "passes"], weak.map((c) => [c.subject, c.share])),
      a.figures.length > 0 && table("Nine draws in ten lie between", ["figure", "from", "middle", "to", "unit"], a.figures.map((f) => [f.label, f.low, f.middle, f.high, f.unit])));
    place.dataset.done = "true";
  }

  // draw makes the sheet of an answer of the engine, with what can be done with
  // it; what it asks further is about the same question.
  function draw(answer, question) {
    const node = dom.grow(answer.sheet);
    const at = (name) => node.querySelector(`[data-live="${name}"]`);
    at("deeds").append(
      el("button", { type: "button", class: "save", onclick: () => dom.save("build.toml", answer.file) }, "Save this build"),
      el("button", { type: "button", class: "with-parts", onclick: () => save(question, "build") }, "With its parts and the brief"),
      el("button", { type: "button", onclick: () => save(question, "sheet") }, "All of it as JSON"),
      question.brief[way.key] ? el("span", { class: "soft" }, "A route goes into no build file: ", question.way ? "its file is saved beside it." : "choose it again where you open it.") : "");
    at("curves").append(unfold("curves", answer, "Curves, a drawing to scale, and what other teeth would do", (place) => curves(place, question)));
    at("asks").append(unfold("vary", answer, "When parts and rider vary", (place) => varied(place, question)), questions.of(answer, question));
    return node;
  }

  return { draw };
})();
