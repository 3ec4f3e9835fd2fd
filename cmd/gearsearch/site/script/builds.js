"use strict";

// builds is the third screen: the table of the builds that do it; why the others
// do not; and where none does, the nearest and what to give way on.
const builds = (() => {
  const el = dom.el;
  let ranked = []; // as the engine gave them
  const open = new Set(); // build files whose sheets are open

  // opener makes a button that opens the sheet of a build in a place: it is
  // fetched when it is opened, and answers the question that the list does.
  function opener(button, file, title, question, place, [to, fro] = ["Open", "Close"]) {
    const asked = { build: file, ...question, ask: "sheet", title };
    const say = (on) => {
      button.setAttribute("aria-expanded", String(on));
      dom.put(button, on ? fro : to, el("span", { class: "hidden" }, " " + title));
    };
    const show = async () => {
      const reply = await wire.ask(asked);
      if (!open.has(file) || reply.cancelled) return;
      place(reply.answer ? sheet.draw(reply.answer, asked) : complaint(reply));
      say(true);
    };
    say(false);
    button.addEventListener("click", () => {
      if (open.delete(file)) {
        place(null);
        say(false);
      } else {
        open.add(file);
        show();
      }
    });
    if (open.has(file)) show();
    return button;
  }

  // table is the table of the builds, each row with its sheet below it once it is
  // opened.
  function table(answer, question) {
    const node = dom.grow(answer.table);
    const rows = [...node.querySelectorAll("table.builds > tbody")];
    rows.forEach((row, i) => {
      const build = answer.builds[i];
      const button = row.querySelector(".look");
      button.id = "look-" + build.rank;
      let line = null;
      opener(button, build.file, "No. " + build.rank, question, (what) => {
        if (line) line.remove();
        line = what && below(row, "opened", what);
        if (line) row.append(line);
      });
      unfolder(row, build, question);
    });
    return node;
  }

  // below is a line of a row's that takes all of its columns.
  const below = (row, name, what) => el("tr", { class: name }, el("td", { colspan: row.rows[0].cells.length + row.rows[1].cells.length }, what));

  // unfolder has a row unfold the builds that it stands for, below it: the engine lists
  // the first, and more when they are wanted.
  function unfolder(row, build, question) {
    const button = row.querySelector(".like");
    if (!button) return;
    let line = null;
    button.id = "like-" + build.rank;
    button.addEventListener("click", async () => {
      if (line) {
        line.remove();
        line = null;
        button.setAttribute("aria-expanded", "false");
        return;
      }
      const place = el("div", { class: "unfolded", "aria-live": "polite" }, el("p", { class: "soft" }, "Looking for them …"));
      line = below(row, "opened alike", place);
      row.rows[1].after(line);
      button.setAttribute("aria-expanded", "true");
      unfold(place, { ...question, ask: "alike", build: build.file, top: few }, build.rank);
    });
  }

  const few = 20; // builds of a design that are listed at a time

  async function unfold(place, question, rank) {
    const reply = await wire.ask(question);
    if (!place.isConnected) return;
    if (!reply.answer) return dom.put(place, reply.cancelled ? el("p", { class: "soft" }, "They were not listed.") : complaint(reply));
    const { table, builds: list, count, more } = reply.answer;
    const node = dom.grow(table);
    [...node.tBodies].forEach((body, i) => {
      let shown = null;
      opener(body.querySelector(".look"), list[i].file, `No. ${rank}, ${i + 2} of its design`, { ...question, build: list[i].file }, (what) => {
        if (shown) shown.remove();
        shown = what && below(body, "opened", what);
        if (shown) body.append(shown);
      });
    });
    const held = place.contains(document.activeElement);
    dom.put(place, node, el("p", { class: "soft" }, `${list.length} of ${count}. `,
      more && el("button", { type: "button", class: "quiet more-alike", onclick: () => unfold(place, { ...question, top: question.top + few }, rank) }, "More of them")));
    if (held) (place.querySelector(".more-alike") || place.querySelector(".look")).focus({ preventScroll: true });
  }

  const complaint = (reply) => el("pre", { class: "notice bad", tabindex: "0" }, (reply.problems || [{ text: reply.fault || "no answer" }]).map((p) => p.text).join("\n"));

  // What is to be shown: the last ranking, the question that it answers, and what
  // else is known of it. It is drawn when it is seen. Counts of an earlier
  // question are no part of it: what is drawn of them looks old until the next
  // come.
  let last = {}; // {ranking, question, tally, relaxed}
  let drawn = {};

  const seen = () => draw();

  // rank takes a ranking and the question that it answers.
  function rank(answer, question) {
    ranked = answer.builds;
    if (question !== last.question && !making) tell(); // what is said is of the question before
    last = { ranking: answer, question };
    drawn = {};
    draw();
  }

  // count takes what became of all combinations.
  function count(tally) {
    last.tally = tally;
    drawn.tally = false;
    draw();
  }

  // field takes the field of all builds, with what may be put on its axes; the
  // question is that of the list.
  function field(answer, question) {
    last.field = { answer, question: { ...question, brief: last.question.brief } };
    drawn.field = false;
    draw();
  }

  function among(answer, question) {
    const place = dom.byId("field");
    if (!answer) return dom.put(place);
    const axis = (name) => {
      const select = el("select", { id: "axis-" + name }, answer.axes.map((a) => el("option", { value: a.name, selected: a.name === answer[name] }, a.title)));
      select.addEventListener("change", async () => {
        const next = { ...question, x: answer.x, y: answer.y, [name]: select.value };
        const reply = await wire.ask(next);
        if (reply.answer && last.question.brief === question.brief) among(reply.answer, next);
      });
      return select;
    };
    const figure = answer.field ? dom.grow(answer.field) : null;
    dom.renew(place, ["builds-title"],
      el("h2", null, "Where they stand among all"),
      el("p", { class: "deeds" }, el("label", null, "Up: ", axis("y")), el("label", null, "Across: ", axis("x"))),
      figure || el("p", null, answer.missing + "."));
    if (last.leaf) last.leaf.among(figure);
  }

  // concede takes what to give way on.
  function concede(answer) {
    last.relaxed = answer;
    draw();
  }

  function draw() {
    if (dom.byId("builds").hidden) return;
    if (last.ranking && !drawn.ranking) list();
    if (last.tally && !drawn.tally) counts(last.tally);
    if (last.relaxed && !drawn.relaxed) gives(last.relaxed);
    if (last.field && !drawn.field) among(last.field.answer, last.field.question);
    drawn = { ranking: Boolean(last.ranking), tally: Boolean(last.tally), relaxed: Boolean(last.relaxed), field: Boolean(last.field) };
  }

  function list() {
    const node = last.ranking.builds.length ? table(last.ranking, last.question) : null;
    dom.renew(dom.byId("list"), ["builds-title"], node);
    dom.put(dom.byId("field"));
    const { ranking, question } = last;
    last.leaf = leaf(node, ranking.data, async (numbers) => {
      const files = numbers.map((n) => ranking.builds.find((b) => b.rank === n).file);
      const reply = await wire.ask({ ...question, ask: "curves", builds: files });
      return reply.answer && reply.answer.charts;
    });
    verdict();
    beware(last.ranking.cautions);
    assumed(last.ranking.builds.length ? last.ranking.assumptions : []);
    drawLooked();
  }

  // counts shows what became of all combinations.
  function counts(tally) {
    verdict(tally);
    dom.put(dom.byId("sieve"), dom.grow(tally.sieve));
    if (tally.none) nearest(tally.nearest);
    if (tally.nearest) assumed(tally.nearest.assumptions);
  }

  // headline says how many builds do it, once they are counted.
  function headline(tally) {
    if (!tally) return "Counting how many do it …";
    const of = `${tally.combinations} ${tally.combinations === "1" ? "combination" : "combinations"}`;
    const say = tally.none ? [el("b", null, "None"), ` of ${of} does it.`] : [el("b", null, tally.one ? "One build does it" : tally.feasible + " builds do it"), ` of ${of}.`];
    return [say, tally.unknown && ` ${tally.unknown} of them have an undecided check: data is missing.`];
  }

  // verdict is the head of the list. It begins with what is to be said of a list
  // that is old, which is shown when it is. Where the builds are the best so far, it
  // stays as it is when better ones come, so that it can be pressed.
  let headed = null; // the question whose builds it is about
  function verdict(tally) {
    if (!tally && headed === last.question) return;
    headed = ranked.length > 0 ? last.question : null;
    dom.renew(dom.byId("verdict"), ["builds-title"],
      el("p", { class: "headline" }, el("span", { class: "before" }, "Below is the answer to the question you asked before."), el("span", { class: "now" }, headline(tally))),
      ranked.length > 0 && state.contents.invented && el("p", null, state.contents.invented),
      ranked.length > 0 && el("p", { class: "deeds" },
        el("label", null, "Show ", top()),
        everything(),
        strictly(),
        el("button", { type: "button", class: "save", id: "report", onclick: report }, "Report to look at and print"),
        el("button", { type: "button", id: "as-json", onclick: () => save("ranking") }, "Save as JSON"),
        el("button", { type: "button", id: "as-csv", onclick: () => save("table") }, "Save as CSV")),
      ranked.length === 0 && state.strict && el("p", { class: "deeds" }, strictly()));
  }

  const strictly = () => el("label", null, el("input", { type: "checkbox", id: "strict", checked: state.strict, onchange: strict }), " reject undecided builds");

  const everything = () => el("label", { title: "not ticked: only the best build for each motor, number of motors and battery" },
    el("input", { type: "checkbox", id: "every", checked: state.every, onchange: every }), " every build");

  const every = (event) => {
    state.every = event.target.checked;
    state.changed();
  };

  const strict = (event) => {
    state.strict = event.target.checked;
    state.changed();
  };

  function top() {
    const select = el("select", { id: "top", "aria-label": "how many builds to show" }, [10, 20, 50, 100].map((n) => el("option", { value: n }, "the best " + n)));
    select.value = state.top;
    select.addEventListener("change", () => {
      state.top = Number(select.value);
      state.changed();
    });
    return select;
  }

  async function save(what) {
    const reply = await wire.ask(state.question("save", { what, top: state.top }));
    if (reply.answer) return dom.save(reply.answer.name, reply.answer.text);
    if (!reply.cancelled) tell("Nothing was saved: " + (reply.problems ? reply.problems[0].text : reply.fault) + ".");
  }

  // tell says how saving goes, where that stays while the list is drawn again.
  function tell(...what) {
    const node = dom.byId("report-says");
    dom.put(node, what);
    node.hidden = what.length === 0;
  }

  let making = false; // a report, which can be stopped

  // report saves the shortlist as a page of its own, all about the first builds
  // with their curves.
  async function report() {
    if (making) return;
    making = true;
    try {
      await makeReport();
    } finally {
      making = false;
    }
  }

  async function makeReport() {
    tell("Making the report: this takes a few seconds … ", el("button", { type: "button", class: "quiet", id: "report-stop", onclick: artist.stop }, "Stop"));
    const made = new Date().toISOString().slice(0, 10);
    const reply = await artist.ask(state.question("report", { top: state.top, made }));
    if (reply.cancelled) return tell("Stopped: no report was made.");
    if (!reply.answer) return tell("No report was made: " + (reply.problems ? reply.problems[0].text : reply.fault) + ".");
    dom.save(reply.answer.name, reply.answer.text);
    tell(`Saved in your downloads as ${reply.answer.name}. Open it, send it on, or print it: each build has its own sheet.`);
  }

  // nearest shows the build that comes nearest where none does it.
  function nearest(miss) {
    if (!miss) return;
    dom.put(dom.byId("list"), sheet.draw(miss, { ...last.question, ask: "sheet", build: miss.file }));
    dom.byId("verdict").append(el("p", { class: "misses" }, "The nearest build misses: ", dom.data(miss.misses), "."), el("div", { id: "give" }));
  }

  // gives says what to give way on: the drawing with its list, in which each can be
  // taken, and the build that it opens looked at.
  function gives(answer) {
    const node = dom.byId("give");
    if (!node) return;
    const shown = dom.grow(answer.shown);
    dom.renew(node, ["builds-title"], answer.openings.length > 0 && axes(answer), shown);
    answer.openings.forEach((o, i) => opening(o, i, node.querySelector(`[data-opening="${i + 1}"]`)));
  }

  // axes choose the figures of the drawing of what to give way on.
  function axes(answer) {
    const axis = (name) => {
      const select = el("select", { id: "give-" + name }, answer.axes.map((a) => el("option", { value: a.name, selected: a.name === answer[name] }, a.title)));
      select.addEventListener("change", async () => {
        const of = last.question;
        const reply = await wire.ask({ ...of, ask: "relax", x: answer.x, y: answer.y, [name]: select.value });
        if (reply.answer && last.question === of) gives(reply.answer);
      });
      return select;
    };
    return el("p", { class: "deeds" }, el("label", null, "Up: ", axis("y")), el("label", null, "Across: ", axis("x")));
  }

  // opening puts into the line of a concession what can be done with it.
  function opening(o, i, line) {
    const asked = { ...last.question, brief: { ...last.question.brief, ...Object.fromEntries(o.gives.map((g) => [g.key, g.value])) } };
    const at = (name) => line.querySelector(`[data-live="${name}"]`);
    const title = "The build that this opens";
    at("take").append(
      el("button", { type: "button", class: "quiet take", id: "take-" + i, onclick: () => give(o.gives), "aria-label": "take it: " + o.gives.map((g) => g.meaning + " " + g.to).join(" and ") }, "take it"), " ",
      opener(el("button", { type: "button", class: "quiet look-at" }), o.build.file + "#" + i, title + " " + (i + 1), { ...asked, build: o.build.file }, (what) => dom.put(at("sheet"), what), ["see the build", "put it away"]));
  }

  function give(gives) {
    for (const g of gives) state.brief[g.key] = g.value;
    blank.showAll();
    state.changed();
  }

  // beware lists what is to be known of the builds, each caution once.
  function beware(cautions) {
    const title = cautions.length === 1 ? "Beware: a note on these builds" : `Beware: ${cautions.length} notes on these builds`;
    dom.put(dom.byId("beware"), cautions.length > 0 && el("details", null, el("summary", null, title),
      el("ul", null, cautions.map((c) => el("li", null, c.ranks && el("b", null, c.ranks + ": "), dom.data(c.text))))));
  }

  // assumed lists what stands in for what nobody gave, of the builds that are shown.
  function assumed(assumptions) {
    dom.put(dom.byId("assumed"),
      assumptions.length > 0 && el("details", null, el("summary", null, "Assumed, where parts and brief give no value"), el("ul", null, assumptions.map((a) => el("li", null, dom.data(a))))));
  }

  // look shows a build that the reader dropped, above the others, with what is to be said
  // of it.
  function look(text, says = null) {
    state.build = text;
    remark = says;
    keep.soon();
    if (text) open.add(text);
    drawLooked();
  }

  let remark = null; // on the build that the reader dropped

  async function drawLooked() {
    const node = dom.byId("looked-at");
    node.classList.toggle("old", Boolean(state.build)); // until the answer is there
    if (!state.build) return dom.put(node);
    const question = state.question("sheet", { build: state.build, title: "Your build" });
    const reply = await wire.ask(question);
    if (reply.cancelled) return;
    node.classList.remove("old");
    const close = el("button", { type: "button", class: "quiet", onclick: () => look("") }, "put it away");
    dom.put(node, el("h2", null, "Your build ", close), remark, reply.answer ? sheet.draw(reply.answer, question) : complaint(reply));
  }

  return { rank, count, field, concede, look, drawLooked, seen };
})();
