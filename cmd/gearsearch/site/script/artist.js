"use strict";

// artist has the program draw builds and make reports.
const artist = (() => {
  const drawn = new Map(); // by question: a promise of all drawings of a build

  // run runs a command line. halt.now stops it, before its words are together too.
  async function run(words, question, more, halt = {}) {
    const halted = new Promise((done) => (halt.now = () => done({ cancelled: true })));
    const command = await Promise.race([program.command({ words, more }, question), halted]);
    if (!command.args) return command;
    const mine = program.run(command);
    halt.now = () => program.stop(mine);
    return mine.answer;
  }

  // trouble is why a reply is no answer, as a reply.
  function trouble(reply) {
    if (reply.cancelled || reply.fault || reply.problems) return reply;
    return { fault: reply.err.trim() || "the program has ended with " + reply.code };
  }

  // drawings are all drawings of a build, in the order of their kinds.
  async function drawings(question) {
    const words = ["plot", "build.toml", kinds(question).join(","), "--format", "html"];
    if (question.width > 0) words.push("--width", String(Math.max(1, Math.floor(question.width))));
    const reply = await run(words, question, { "build.toml": question.build });
    if (reply.code !== 0) return trouble(reply);
    return { answer: [...markup.read(reply.out, "drawing").children] };
  }

  // kinds are those of a question: a ride is drawn where there is a route.
  const kinds = (question) => all.filter((kind) => kind !== "route" || question.brief[way.key]);
  const all = ["thrust", "stop", "route", "cruise", "stops", "teeth", "climb", "heat", "launch", "sensitivity", "layout"];

  // drawing is one of them; all are made at once, when the first is asked for.
  async function drawing(question) {
    const { brief, strict, units, build, way: file } = question;
    const key = JSON.stringify([brief, strict, units, build, file, state.inUse.files.map((f) => f.name)]);
    if (!drawn.has(key)) {
      drawn.clear();
      drawn.set(key, drawings(question));
    }
    const reply = await drawn.get(key);
    if (!reply.answer) {
      drawn.delete(key);
      return reply;
    }
    const node = reply.answer[kinds(question).indexOf(question.what)];
    if (node.localName === "figure") return { answer: { svg: node.cloneNode(true) } };
    return { answer: { missing: node.textContent.replace(/^[^:]*: /, "") } };
  }

  const making = {}; // the report, while it is made

  // report is the shortlist as a page of its own.
  async function report(question) {
    const words = ["report", "--top", String(question.top), "--date", question.made];
    if (question.every) words.push("--apart", "none");
    const reply = await run(words, question, {}, making);
    if (reply.code === 0 || (reply.code === 1 && reply.out)) return { answer: { name: "shortlist.html", text: reply.out } };
    return trouble(reply);
  }

  // ask asks for a drawing of a build, or for the report.
  const ask = (question) => (question.ask === "report" ? report(question) : drawing(question));

  // stop ends the report that is in the making.
  const stop = () => making.now();

  // figure is a drawing with its title, and what it shows in words. One that is
  // wider than a screen keeps its size and moves sideways.
  function figure(answer) {
    const node = answer.svg;
    const svg = node.querySelector("svg");
    const title = node.querySelector("figcaption").textContent;
    const width = svg.viewBox.baseVal.width;
    const wide = width > 460;
    svg.setAttribute("aria-label", title);
    if (wide) svg.style.minWidth = Math.min(width, 704) + "px";
    return dom.el("figure", { class: wide ? "curve broad" : "curve" }, dom.el("figcaption", null, title),
      wide ? dom.el("div", { class: "scroll", tabindex: "0", role: "group", "aria-label": title }, svg) : svg,
      dom.el("p", { class: "small" }, dom.data(node.querySelector("p").textContent)));
  }

  return { ask, stop, figure, kinds };
})();
