"use strict";

// sheet is all about one build: what to buy, every figure with its reason on
// demand, the checks, the points, what is assumed, what to beware of.
const sheet = (() => {
  const el = dom.el;

  // someInvented reports whether a list has parts of the demo and others beside
  // them: then each is marked, else the list is.
  const someInvented = (list) => list.some((p) => p.invented) && list.some((p) => p.id && !p.invented);

  function shopping(build) {
    const each = someInvented(build.parts);
    return el("div", { class: "scroll", tabindex: "0", role: "group", "aria-label": "Parts of the build" },
      el("table", null,
        el("caption", null, "To buy", build.invented && (each ? ", some of it invented" : ", all of it invented")),
        el("thead", null, el("tr", null, ["pieces", "part", "price", "mass"].map((h) => el("th", { scope: "col", class: h === "part" ? null : "number " + h }, h)))),
        el("tbody", null, build.parts.map((p) => el("tr", null,
          el("td", { class: "number" }, p.pieces + " ×"),
          el("th", { scope: "row" }, el("span", { class: "id" }, dom.data(p.id)), " ", el("span", { class: "soft" }, p.slot.replace("_", " "), p.name && [", ", dom.data(p.name)], p.note && [", ", dom.data(p.note)], each && p.invented && ", invented"), p.link && [" ", dom.link(p.link)]),
          el("td", { class: "number" }, p.owned ? "owned" : p.price),
          el("td", { class: "number mass" }, p.mass)))),
        el("tfoot", null, el("tr", null, el("td"), el("th", { scope: "row" }, "in all", build.invented && ", invented prices", el("span", { class: "mass" }, ", deck and box included in the mass")), el("td", { class: "number" }, total(build, "price")), el("td", { class: "number mass" }, total(build, "mass_kg"))))));
  }

  // total is a figure of a build as text, or why it has none.
  function total(build, name) {
    const f = build.figures.find((figure) => figure.name === name);
    return f.absent || f.text + " " + f.unit;
  }

  function figure(f) {
    return el("details", { class: "figure", "data-figure": f.name },
      el("summary", null, el("span", { class: "label" }, f.label), " ", el("b", null, f.text || f.absent), f.unit && " " + f.unit),
      el("dl", null,
        el("dt", null, "meaning"), el("dd", null, f.meaning),
        el("dt", null, "formula"), el("dd", { class: "formula" }, f.formula),
        el("dt", null, f.text ? "numbers" : "why not"), el("dd", { class: "formula" }, dom.data(f.numbers)),
        el("dt", null, "source"), el("dd", null, f.source)));
  }

  function figures(groups) {
    return el("div", { class: "figures" }, el("h2", null, "Figures"), el("p", { class: "soft" }, "Open one for its formula, its numbers and its source."),
      groups.map((g) => el("section", null, el("h3", null, g.title), el("div", { class: "spread" }, g.figures.map(figure)))));
  }

  const verdicts = { pass: "passes", fail: "fails", unknown: "not decided" };

  function checks(list, meanings) {
    return [el("div", { class: "scroll", tabindex: "0", role: "group", "aria-label": "Checks of the build" },
      el("table", null,
        el("caption", null, "Checks"),
        el("thead", null, el("tr", null, ["check", "verdict", "value", "limit", "margin"].map((h, i) => el("th", { scope: "col", class: i > 1 ? "number" : null }, h)))),
        el("tbody", null, list.map((c) => el("tr", { class: c.sign === "!!" ? "over" : c.sign ? "thin" : null },
          el("th", { scope: "row" }, c.subject),
          el("td", null, verdicts[c.verdict] + (c.demoted ? ", only a caution" : "")),
          el("td", { class: "number" }, c.value), el("td", { class: "number" }, c.limit && c.limit + " " + c.unit),
          el("td", { class: "number" }, c.margin === null ? "" : rack.percent(c.margin) + (c.sign === "!" ? " thin" : ""))))))),
    el("details", null, el("summary", null, "What each check asks"), el("ul", null, meanings.map((m) => el("li", null, el("b", null, m.subject), " passes when " + m.meaning))))];
  }

  function points(list) {
    return el("details", { class: "points" }, el("summary", null, "The points, criterion by criterion"),
      el("ul", null, list.map((p) => el("li", null, el("b", null, p.name), ` ${p.score} of 1, counts ${p.weight}: ${p.meaning}; `, el("span", { class: "formula" }, p.formula)))));
  }

  async function saveSheet(question) {
    const reply = await wire.ask({ ...question, ask: "save", what: "sheet" });
    if (reply.answer) dom.save(reply.answer.name, reply.answer.text);
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
    const wait = el("p", { class: "soft" }, "Fetching the drawing engine …");
    const drawn = el("div", { class: "curves" });
    dom.put(place, drawn, wait);
    for (const what of ["thrust", "stop", "cruise", "stops", "teeth", "climb", "heat", "launch", "sensitivity", "layout"]) {
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

  // draw makes the sheet of an answer of the engine; what it asks further is
  // about the same question.
  function draw(answer, question) {
    const build = answer.build;
    return el("div", { class: "sheet" },
      el("p", { class: "deeds" },
        el("button", { type: "button", class: "save", onclick: () => dom.save("build.toml", build.file) }, "Save this build"),
        el("button", { type: "button", onclick: () => saveSheet(question) }, "All of it as JSON")),
      shopping(build), around(answer.around),
      unfold("curves", build, "Curves, and what other teeth would do", (place) => curves(place, question)),
      unfold("vary", build, "When parts and rider vary", (place) => varied(place, question)),
      questions.of(build, question),
      figures(answer.groups), checks(build.checks, answer.meanings), points(answer.scores),
      answer.assumptions.length > 0 && [el("h2", null, "Assumed"), el("ul", { class: "plain" }, answer.assumptions.map((a) => el("li", null, dom.data(a))))],
      build.cautions.length > 0 && [el("h2", null, "Beware"), el("ul", null, build.cautions.map((c) => el("li", null, dom.data(c))))]);
  }

  return { draw };
})();
