"use strict";

// The page's own life: the screens, the status line, and the questions that a
// change asks. The last answer stays until the next one is there, and looks old.
(() => {
  const screens = ["ride", "parts", "builds", "more"];
  let turn = 0; // of the last change: answers to older ones are dropped

  function show() {
    const name = [address.screen(), document.body.dataset.screen].find((s) => screens.includes(s)) || "ride";
    for (const s of screens) dom.byId(s).hidden = !state.words || s !== name;
    for (const a of document.querySelectorAll("nav a")) {
      if (a.hash === "#" + name) a.setAttribute("aria-current", "page");
      else a.removeAttribute("aria-current");
    }
    document.body.dataset.screen = name;
    const first = dom.byId("first"); // what the page was written with
    if (first && state.words) first.remove();
    document.title = dom.byId(name + "-title").textContent + " – gearsearch";
    if (name === "ride" && state.words) drawing.draw();
    if (name === "parts") parts.seen();
    if (name === "builds") builds.seen();
    return name;
  }

  function turnTo(name) {
    if (address.screen() === name) return;
    location.hash = name;
  }

  let wanted = null; // what is to have the focus on the screen that comes

  // lead turns to the screen where something is put right, and to the field of a
  // key of the brief, if it has one there.
  function lead(event, place, key) {
    event.preventDefault();
    wanted = () => blank.find(key) || parts.find((key || "").replace(/^(keep|avoid)\./, ""));
    if (document.body.dataset.screen === place) arrive();
    else turnTo(place);
  }

  // arrive puts the focus where it is wanted on a screen, else on its title.
  function arrive() {
    const field = wanted && wanted();
    wanted = null;
    const fold = field && field.closest("details");
    if (fold) fold.open = true; // nothing closed takes the focus
    (field || dom.byId(document.body.dataset.screen + "-title")).focus({ preventScroll: !field });
    if (field) field.scrollIntoView({ block: "center" });
    else scrollTo(0, 0);
  }

  function say(...what) {
    dom.put(dom.byId("status-text"), what);
  }

  // older says over the builds, and of files below, what is to be known of the
  // question that they answer.
  function older({ reason, unread }) {
    dom.put(dom.byId("status-files"), unread.length > 0 && [" without ", unread.map((name, i) => [i ? ", " : "", dom.data(name)])]);
    dom.put(dom.byId("older"),
      reason && dom.el("p", { class: "notice bad" }, dom.el("b", null, "This question has no answer: "), reason.text, " ", reason.place && dom.el("a", { href: "#" + reason.place, onclick: (event) => lead(event, reason.place, reason.key) }, "go there")),
      unread.length > 0 && dom.el("p", { class: "notice bad" }, dom.el("b", null, "Without ", unread.map((name, i) => [i ? ", " : "", dom.data(name)]), ":"), " it is not in use until its mistakes are fixed. All answers use the parts from before. ", dom.el("a", { href: "#parts" }, "go there")));
  }

  function trouble(text, again) {
    const node = dom.byId("trouble");
    node.hidden = !text;
    dom.put(node, text && dom.el("p", null, text), text && again && dom.el("button", { type: "button", onclick: again }, "Start it again"));
  }

  // refresh asks what follows from a change: the ranking first, then the count,
  // then, where nothing does it, what to give way on, then what each wish costs.
  async function refresh() {
    const mine = ++turn;
    const stale = (reply) => mine !== turn || reply.cancelled;
    const begun = performance.now();
    fresh.asked();
    progress.begin();
    const hear = (what) => (far) => mine === turn && progress.show(what, far);
    const question = state.question("rank", { top: state.top });
    const ranking = await wire.ask(question, (far) => {
      hear("Looking for the best")(far);
      if (mine !== turn || !far.best || !far.best.builds.length) return;
      builds.rank(far.best, question);
      progress.sofar();
      fresh.sofar();
    });
    if (mine === turn && !wire.running()) return fresh.rest({ text: "the engine does not run." });
    if (stale(ranking)) return;
    complain(ranking);
    if (!ranking.answer) return;
    builds.rank(ranking.answer, question);
    parts.tell(ranking.answer.builds);
    if (ranking.answer.incomplete) {
      fresh.sofar();
      return halt(ranking.answer.incomplete);
    }
    fresh.ranked();
    performance.mark("ranked");
    const first = performance.now() - begun;

    progress.whole();
    if (progress.halted()) return halt("The builds are the best of all; how many more do it is not counted.");
    const tally = await wire.ask(state.question("count"), hear("Counting"));
    if (stale(tally)) return;
    if (!tally.answer) return complain(tally);
    if (tally.answer.incomplete) return halt("The builds are the best of all. " + tally.answer.incomplete);
    builds.count(tally.answer);
    fresh.counted();
    const took = performance.now() - begun;
    const best = ranking.answer.builds[0];
    say(dom.el("b", { class: "told" }, tally.answer.none ? "Nothing does it" : tally.answer.one ? "One build does it" : tally.answer.feasible + " builds do it"),
      best && `, the best with ${best.score} points`, dom.el("span", { class: "soft" }, ` in ${took.toFixed(0)} ms `), dom.el("a", { href: "#builds" }, "see them"));
    document.body.dataset.first = first.toFixed(0);
    document.body.dataset.took = took.toFixed(0);
    if (!tally.answer.none) {
      const asked = state.question("field", { top: state.top });
      const among = await wire.ask(asked, hear("Looking where they stand among all"));
      if (mine === turn && progress.halted()) return halt("Where they stand among all is not known.");
      if (stale(among)) return;
      if (!among.answer) return complain(among);
      builds.field(among.answer, asked);
    }
    if (tally.answer.none) {
      const relaxed = await wire.ask(state.question("relax"), hear("Looking for what to give way on"));
      if (mine === turn && progress.halted()) return halt("What to give way on is not known.");
      if (stale(relaxed)) return;
      if (!relaxed.answer) return complain(relaxed);
      builds.concede(relaxed.answer);
    }
    const costs = await wire.ask(state.question("without"), hear("Counting what each wish costs"));
    if (mine === turn && progress.halted()) return halt("What each wish costs is not counted.");
    if (stale(costs)) return;
    if (!costs.answer) return complain(costs);
    ride.tell(costs.answer.wishes);
    progress.whole();
    fresh.priced();
    fresh.rest();
    ride.keepOnly(costs.answer.wishes.map((w) => w.key));
    for (const wish of costs.answer.wishes.filter((w) => blank.find(w.key))) {
      const reply = await wire.ask(state.question("spread", { key: wish.key }));
      if (stale(reply)) return;
      if (reply.answer && reply.answer.strip) ride.spread(reply.answer, wish.name);
    }
  }

  // drawn draws what shows the question itself, after what is old has been seen to be.
  // Many changes before that are one.
  let due = 0;
  function drawn() {
    cancelAnimationFrame(due);
    due = requestAnimationFrame(() => setTimeout(() => {
      drawing.draw();
      parts.show();
    }));
  }

  // halt ends an answer that the reader has stopped; lacks says what it lacks.
  function halt(lacks) {
    progress.stopped(lacks, refresh);
    say(dom.el("b", null, "Stopped. "), dom.el("a", { href: "#builds" }, "see what was found"));
    fresh.stopped();
  }

  // complain says why a reply is no answer, if it is none: where that stands,
  // below, and over the builds, which then are old.
  function complain(reply) {
    const problems = reply.problems || (reply.answer ? [] : [{ message: reply.fault || "the engine does not answer" }]);
    ride.complain(problems);
    parts.complain(problems);
    if (!problems.length) return;
    progress.rest();
    const p = problems[0];
    const text = p.message + (p.key || !p.hint ? "" : "; " + p.hint);
    say(dom.el("b", null, "No answer: "), dom.data(text), " ", p.place && dom.el("a", { href: "#" + p.place, onclick: (event) => lead(event, p.place, p.key) }, "go there"));
    fresh.rest({ text: dom.data(text), place: p.place, key: p.key });
    builds.drawLooked();
  }

  // begin starts the engine, which can be asked at once; its answers come when it runs.
  function begin() {
    trouble("");
    return wire.start((text) => {
      turn++;
      fresh.rest({ text: "the engine has ended." });
      say("The engine has ended.");
      trouble("The engine has ended: " + text, again);
    });
  }

  // meet has the engine say what the page must know of it.
  async function meet() {
    const reply = await wire.ask({ ask: "start" });
    if (reply.cancelled) return false;
    state.words = reply.answer;
    if (!state.words || state.words.protocol !== 1) throw new Error("the page and its engine are of different versions: write the page again");
    return true;
  }

  async function again() {
    try {
      await begin();
      await meet();
      await files.use();
    } catch (error) {
      trouble("The engine does not start: " + error.message, again);
    }
  }

  // idle tells that there is no engine.
  function idle(error) {
    turn++; // whoever waits for an answer waits no more
    fresh.rest({ text: "the engine does not start." });
    say("No engine.");
    trouble("The engine does not start: " + error.message, again);
  }

  async function start() {
    addEventListener("hashchange", () => {
      const before = document.body.dataset.screen;
      show();
      if (state.contents && address.take()) { // one step back or on, or a link
        dom.byId("units").value = state.units;
        blank.showAll();
        state.changed();
      }
      address.put();
      if (document.body.dataset.screen !== before || wanted) arrive();
    });
    show();
    fresh.put(older);
    fresh.asked();
    // A file that is dropped too early must not take the page's place.
    for (const type of ["dragover", "drop"]) addEventListener(type, (event) => event.preventDefault());
    begin().catch(idle);
    try {
      if (!await meet()) return;
    } catch (error) {
      idle(error);
      return;
    }
    const back = keep.restore();
    const [catalog, brief] = await Promise.all([wire.ask({ ask: "catalog", files: [], demo: true }), wire.ask({ ask: "demo", name: "harbour" })]);
    state.contents = catalog.answer;
    if (!back) state.brief = { ...brief.answer.values };
    if (!(back && address.renewed()) && address.take() && back) boards.before(back);
    dom.byId("units").value = state.units;
    show();
    ride.start();
    questions.start();
    drawing.draw();
    new ResizeObserver(() => drawing.draw()).observe(dom.byId("drawing").parentNode);
    const refused = () => {
      parts.crate();
      turnTo("parts");
    };
    files.start({
      asking() {
        turn++; // what is on its way is about other parts
        fresh.asked();
        progress.begin();
      },
      catalog(read) {
        if (read) {
          parts.load();
          blank.showAll();
        } else refused();
        refresh();
      },
      same: refresh,
      shown: () => turnTo("parts"),
      refused,
      brief(values) {
        ride.replace(values);
        turnTo("ride");
      },
      way(file) {
        turnTo("ride");
        way.take(file);
      },
      build(text, from) {
        builds.look(text, from && boards.told(from));
        turnTo("builds");
      },
      carried(name, values) {
        boards.aside(name);
        state.brief = { ...values };
        address.put();
      },
    });
    parts.load();
    state.onchange(() => {
      refresh();
      drawn();
    });
    keep.start();
    address.start();
    boards.show();
    dom.put(dom.byId("cautions"), state.words.cautions.map((c) => dom.el("li", null, c)));
    dom.byId("version").textContent = globalThis.gearsearchPage.version;
    dom.byId("units").addEventListener("change", (event) => {
      state.units = event.target.value;
      state.changed();
    });
    if (state.build) builds.look(state.build);
    if (state.files.length) await files.use(); // which asks
    else await refresh();
    offline.start();
  }

  start();
})();
