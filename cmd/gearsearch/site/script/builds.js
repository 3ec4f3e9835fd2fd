"use strict";

// builds is the third screen: the builds that do it, best first, each with its
// rack; why the others do not; and where none does, the nearest and what to
// give way on.
const builds = (() => {
  const el = dom.el;
  let ranked = []; // as the engine gave them
  const open = new Set(); // build files whose sheets are open
  const order = ["motor", "controller", "battery", "gear_drive", "motor_pulley", "wheel", "mount"];

  // partText is what a build has in a slot; for a belt drive the motor pulley
  // stands for the pair.
  function partText(build, slot) {
    const part = build.parts.find((p) => p.slot === slot);
    if (!part) return "";
    if (slot === "gear_drive" || slot === "motor_pulley") return build.drive;
    return (slot !== "wheel" && part.pieces > 1 ? part.pieces + " × " : "") + part.id;
  }

  // shared are the slots in which all builds have the same.
  function shared(list) {
    if (list.length < 2) return [];
    return order.filter((slot) => {
      const first = partText(list[0], slot);
      return first && list.every((b) => partText(b, slot) === first);
    });
  }

  function madeOf(build, without) {
    const texts = order.filter((slot) => !without.includes(slot)).map((slot) => partText(build, slot)).filter(Boolean);
    return el("p", { class: "made" }, texts.map((t, i) => [i ? el("span", { class: "soft" }, " · ") : null, dom.data(t, { class: "id" })]));
  }

  // does is what a build does, figure by figure, or why it has no such figure.
  function does(build) {
    const words = { top_speed_kmh: ["", " flat"], climb_limit_pct: ["climbs ", ""], range_km: ["", " a charge"], launch_s: ["starts in ", ""] };
    return el("p", { class: "does" }, build.figures.map((f) => {
      const [before, behind] = words[f.name] || ["", ""];
      if (f.absent) return el("span", null, el("span", { class: "soft" }, f.label, " "), el("b", null, f.absent));
      return el("span", null, el("span", { class: "soft" }, before), el("b", null, f.text), " " + f.unit, el("span", { class: "soft" }, behind, f.name === "top_speed_kmh" && heldBy(build), f.name === "price" && build.invented && ", invented"));
    }));
  }

  function heldBy(build) {
    const limit = state.words.limits.find((l) => l.name === build.heldBy);
    return limit ? el("span", { title: limit.title }, ", limited by ", limit.name) : null;
  }

  // card is one build; its sheet is fetched when it is opened, and answers the
  // question that the card does.
  function card(name, build, title, without, teeth, question) {
    const place = el("div", { class: "opened" });
    const asked = { ...question, build: build.file };
    const button = el("button", { type: "button", class: "look", id: "look-" + (build.rank || "at-" + name) });
    const say = (on) => {
      button.setAttribute("aria-expanded", String(on));
      dom.put(button, on ? "Close" : "Open", el("span", { class: "hidden" }, ": all about " + title));
    };
    say(false);
    const show = async () => {
      const reply = await wire.ask({ ...asked, ask: "sheet" });
      if (!open.has(build.file) || reply.cancelled) return;
      dom.put(place, reply.answer ? sheet.draw(reply.answer, asked) : complaint(reply));
      say(true);
    };
    button.addEventListener("click", () => {
      if (open.delete(build.file)) {
        dom.put(place);
        say(false);
      } else {
        open.add(build.file);
        show();
      }
    });
    if (open.has(build.file)) show();
    return el(name, { class: "build" },
      el("div", { class: "place" }, build.rank > 0 && el("span", { class: "rank" }, build.rank), el("span", { class: "score" }, el("b", null, build.score), el("span", { class: "soft" }, " points"), build.alike && el("span", { class: "soft" }, build.alike)), button),
      el("div", { class: "body" }, madeOf(build, without), does(build), rack.draw(build.checks, teeth)), place);
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
    last = { ranking: answer, question };
    drawn = {};
    said = [];
    draw();
  }

  // count takes what became of all combinations.
  function count(tally) {
    last.tally = tally;
    drawn.tally = false;
    draw();
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
    drawn = { ranking: Boolean(last.ranking), tally: Boolean(last.tally), relaxed: Boolean(last.relaxed) };
  }

  function list() {
    const same = shared(ranked);
    const teeth = rack.columns(ranked);
    dom.renew(dom.byId("list"), ["builds-title"], ranked.map((b) => card("li", b, "build " + b.rank, same, teeth, last.question)));
    verdict();
    beware(last.ranking.cautions);
    assumed(last.ranking.builds.length ? last.ranking.assumptions : []);
    drawLooked();
  }

  // counts shows what became of all combinations.
  function counts(tally) {
    verdict(tally);
    sieve(tally);
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
  // that is old, which is shown when it is.
  function verdict(tally) {
    const same = shared(ranked);
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
      el("p", { id: "report-says", class: "notice", role: "status", hidden: !said.length }, said),
      ranked.length === 0 && state.strict && el("p", { class: "deeds" }, strictly()),
      same.length > 0 && el("p", null, "In all of these: ", same.map((slot, i) => [i ? ", " : "", slot === "motor_pulley" || slot === "gear_drive" ? "drive" : slot, " ", dom.data(partText(ranked[0], slot), { class: "id" })]), "."),
      ranked.length > 0 && el("p", { class: "soft key" }, "The taller a tooth, the further the build is from that limit; a dashed tooth hangs below the line by what the build misses; ! less than 5 % away, ? not decided."));
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

  let said = []; // of what is saved

  // tell says how saving goes.
  function tell(...what) {
    said = what;
    const node = dom.byId("report-says");
    if (!node) return;
    dom.put(node, what);
    node.hidden = false;
  }

  // report saves the shortlist as a page of its own, all about the first builds
  // with their curves.
  async function report() {
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
    dom.put(dom.byId("list"), card("li", miss.build, "the nearest build", [], rack.columns([miss.build]), last.question));
    const node = dom.byId("verdict");
    node.append(el("p", null, "The nearest build misses these:"), el("ul", { class: "misses" }, miss.misses.map((c) => el("li", null, rack.spoken(c)))), el("div", { id: "give" }));
  }

  // gives says what to give way on.
  function gives(answer) {
    const node = dom.byId("give");
    if (!node) return;
    if (!answer.openings.length) {
      dom.put(node, el("p", null, "Giving way on one wish, or on two, is not enough: add parts, or bring back those that you set aside."));
      return;
    }
    dom.put(node, el("p", null, "Giving way on any one of these is enough:"),
      el("ul", { class: "gives" }, answer.openings.map((o) => el("li", null,
        o.gives.map((g, i) => [i ? " and " : "", g.meaning, " ", el("s", null, g.from), " ", el("b", null, g.to)]), " ",
        el("button", { type: "button", class: "quiet", onclick: () => give(o.gives), "aria-label": "take it: " + o.gives.map((g) => g.meaning + " " + g.to).join(" and ") }, "take it")))));
  }

  function give(gives) {
    for (const g of gives) state.brief[g.key] = g.value;
    blank.showAll();
    state.changed();
  }

  // sieve shows what each check leaves of the combinations.
  function sieve(tally) {
    const all = tally.rejected.length ? tally.rejected[0].left + tally.rejected[0].count : 0;
    const share = (left) => (left > 0 ? (75 * Math.log10(1 + left)) / Math.log10(1 + all) : 0);
    dom.put(dom.byId("sieve"), el("h2", null, "Why the others fail"),
      el("p", { class: "soft" }, "Each combination counts under the first check that it fails; beside that stands how many are left. The bars have a logarithmic scale."),
      el("ol", { class: "sieve" }, tally.rejected.filter((r) => r.count > 0).map((r) => {
        const bar = el("span", { class: "left", "aria-hidden": "true" });
        bar.style.width = share(r.left) + "%";
        return el("li", null, el("span", { class: "what" }, r.subject), el("span", { class: "number" }, el("span", { class: "hidden" }, "rejected "), "−" + r.text), el("span", { class: "room" }, bar, el("span", { class: "soft" }, r.leftText, el("span", { class: "hidden" }, " left"))));
      })));
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

  // look shows a build that the reader dropped, above the others.
  function look(text) {
    state.build = text;
    keep.soon();
    if (text) open.add(text);
    drawLooked();
  }

  async function drawLooked() {
    const node = dom.byId("looked-at");
    node.classList.toggle("old", Boolean(state.build)); // until the answer is there
    if (!state.build) return dom.put(node);
    const question = state.question("sheet", { build: state.build });
    const reply = await wire.ask(question);
    if (reply.cancelled) return;
    node.classList.remove("old");
    const close = el("button", { type: "button", class: "quiet", onclick: () => look("") }, "put it away");
    dom.put(node, el("h2", null, "Your build ", close), reply.answer ? card("div", { ...reply.answer.build, rank: 0 }, "your build", [], rack.columns([reply.answer.build]), question) : complaint(reply));
  }

  return { rank, count, concede, look, drawLooked, seen };
})();
