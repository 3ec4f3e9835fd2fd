"use strict";

// The page's own life: the screens, the status line, and the questions that a
// change asks. The last answer stays until the next one is there.
(() => {
  const screens = ["ride", "parts", "builds"];
  let turn = 0; // of the last change: answers to older ones are dropped

  function show() {
    const name = screens.includes(location.hash.slice(1)) ? location.hash.slice(1) : "ride";
    for (const s of screens) dom.byId(s).hidden = s !== name;
    for (const a of document.querySelectorAll("nav a")) {
      if (a.hash === "#" + name) a.setAttribute("aria-current", "page");
      else a.removeAttribute("aria-current");
    }
    document.body.dataset.screen = name;
    document.title = dom.byId(name + "-title").textContent + " – gearsearch";
    if (name === "ride" && state.words) drawing.draw();
    if (name === "parts") parts.seen();
    if (name === "builds") builds.seen();
    return name;
  }

  function turnTo(name) {
    if (location.hash === "#" + name) return;
    location.hash = name;
  }

  function say(...what) {
    dom.put(dom.byId("status-text"), what);
  }

  let sign = 0;
  function busy(on) {
    clearTimeout(sign);
    document.body.dataset.busy = on;
    const wait = 150; // no sign for what is done at once
    if (on) sign = setTimeout(() => document.body.classList.add("busy"), wait);
    else document.body.classList.remove("busy");
  }

  function trouble(text, again) {
    const node = dom.byId("trouble");
    node.hidden = !text;
    dom.put(node, text && dom.el("p", null, text), text && again && dom.el("button", { type: "button", onclick: again }, "Start it again"));
  }

  // refresh asks what follows from a change: the ranking first, then the count,
  // then, where nothing does it, what to give way on.
  async function refresh() {
    const mine = ++turn;
    const stale = (reply) => mine !== turn || reply.cancelled;
    const begun = performance.now();
    busy(true);
    const ranking = await wire.ask(state.question("rank", { top: state.top }));
    if (stale(ranking)) return;
    const problems = ranking.problems || (ranking.fault ? [{ message: ranking.fault, text: ranking.fault }] : []);
    complain(problems);
    if (!ranking.answer) return busy(false);
    builds.rank(ranking.answer);
    parts.tell(ranking.answer.builds);
    const first = performance.now() - begun;

    const tally = await wire.ask(state.question("count"));
    if (stale(tally)) return;
    if (!tally.answer) {
      complain([{ message: tally.fault || "no count" }]);
      return busy(false);
    }
    builds.count(tally.answer);
    ride.tell(tally.answer);
    const took = performance.now() - begun;
    const best = ranking.answer.builds[0];
    say(dom.el("b", null, tally.answer.none ? "Nothing does it" : tally.answer.one ? "One build does it" : tally.answer.feasible + " builds do it"),
      best && `, the best with ${best.score} points`, dom.el("span", { class: "soft" }, ` in ${took.toFixed(0)} ms `), dom.el("a", { href: "#builds" }, "see them"));
    document.body.dataset.first = first.toFixed(0);
    document.body.dataset.took = took.toFixed(0);
    if (tally.answer.none) {
      const relaxed = await wire.ask(state.question("relax"));
      if (stale(relaxed)) return;
      if (relaxed.answer) builds.concede(relaxed.answer);
      else complain(relaxed.problems || [{ message: relaxed.fault || "no word on what to give way on" }]);
    }
    busy(false);
  }

  // complain says what is wrong with the brief, where it stands and below.
  function complain(problems) {
    ride.complain(problems);
    parts.complain(problems);
    document.body.classList.toggle("unanswered", problems.length > 0);
    if (!problems.length) return;
    const p = problems[0];
    const place = /^(keep|avoid)\./.test(p.key || "") ? "#parts" : "#ride";
    const go = () => setTimeout(() => {
      const field = blank.find(p.key);
      if (field) field.focus();
    });
    say(dom.el("b", null, "No answer: "), dom.data(p.message + (p.key || !p.hint ? "" : "; " + p.hint)), " ", dom.el("a", { href: place, onclick: go }, "go there"));
  }

  // begin starts the engine and gives it what the reader has.
  async function begin() {
    trouble("");
    await wire.start((text) => {
      turn++;
      busy(false);
      say("The engine has ended.");
      trouble("The engine has ended: " + text, again);
    });
    const reply = await wire.ask({ ask: "start" });
    state.words = reply.answer;
    if (!state.words || state.words.protocol !== 1) throw new Error("the page and its engine are of different versions: write the page anew");
  }

  async function again() {
    try {
      await begin();
      await files.use();
    } catch (error) {
      trouble("The engine does not start: " + error.message, again);
    }
  }

  async function start() {
    addEventListener("hashchange", () => {
      const name = show();
      dom.byId(name + "-title").focus({ preventScroll: true });
      scrollTo(0, 0);
    });
    show();
    busy(true);
    // A file that is dropped too early must not take the page's place.
    for (const type of ["dragover", "drop"]) addEventListener(type, (event) => event.preventDefault());
    // The engine's file is the largest by far, and comes last.
    await new Promise((come) => addEventListener("DOMContentLoaded", come));
    try {
      await begin();
    } catch (error) {
      busy(false);
      say("No engine.");
      trouble("The engine does not start: " + error.message);
      return;
    }
    const back = keep.restore();
    const [catalog, brief] = await Promise.all([wire.ask({ ask: "catalog", files: [], demo: true }), wire.ask({ ask: "demo", name: "harbour" })]);
    state.contents = catalog.answer;
    if (!back) state.brief = { ...brief.answer.values };
    dom.byId("units").value = state.units;
    ride.start();
    drawing.draw();
    new ResizeObserver(() => drawing.draw()).observe(dom.byId("drawing").parentNode);
    files.start({
      catalog(read) {
        parts.crate();
        if (read) parts.load();
        if (read) {
          blank.showAll();
          refresh();
        } else turnTo("parts");
      },
      brief(values) {
        ride.replace(values);
        turnTo("ride");
      },
      build(text) {
        builds.look(text);
        turnTo("builds");
      },
    });
    parts.load();
    state.onchange(() => {
      drawing.draw();
      parts.show();
      refresh();
    });
    keep.start();
    dom.put(dom.byId("cautions"), state.words.cautions.map((c) => dom.el("li", null, c)));
    dom.byId("version").textContent = globalThis.gearsearchEngine.version;
    dom.byId("units").addEventListener("change", (event) => {
      state.units = event.target.value;
      state.changed();
    });
    if (state.build) builds.look(state.build);
    if (!(state.files.length && (await files.use()))) refresh(); // files that are taken refresh by themselves
  }

  start();
})();
