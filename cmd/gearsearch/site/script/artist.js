"use strict";

// artist asks the engine that draws. It is a second one, several times as
// large, and fetched once something is to be drawn.
const artist = (() => {
  const from = { src: "drawings.js", name: "gearsearchDrawings" };
  const line = newWire(from.name);
  let ready = null; // a promise that it can be asked
  let has = null; // the contents of the catalog that it has
  let turn = 0; // of the last stop: what was asked before it is cancelled
  let runs = false; // its worker is there, or on its way

  function fetched() {
    if (globalThis[from.name]) return Promise.resolve();
    return new Promise((kept, broken) => {
      document.head.append(dom.el("script", { src: from.src, onload: kept, onerror: () => broken(new Error(from.src + " is missing beside this page")) }));
    });
  }

  async function start() {
    await fetched();
    has = null;
    runs = true;
    await line.start(() => (ready = null));
  }

  // ask asks about the catalog in use. It starts the engine where it must.
  async function ask(question) {
    const mine = turn;
    try {
      ready = ready || start();
      await ready;
    } catch (error) {
      if (mine !== turn) return { cancelled: true };
      ready = null;
      return { fault: "the drawing engine does not start: " + error.message };
    }
    if (mine !== turn) return { cancelled: true };
    const now = state.contents;
    if (has !== now) {
      const reply = await line.ask({ ask: "catalog", ...state.inUse });
      if (!reply.answer) return reply;
      has = now;
    }
    return line.ask(question);
  }

  // stop ends all that is in the making; the next question starts it again.
  function stop() {
    turn++;
    if (!runs) return;
    runs = false;
    ready = null;
    line.stop();
  }

  // What a drawing may be made of: shapes and texts, and how they look.
  const shapes = new Set(["svg", "g", "path", "text"]);
  const traits = new Set(["viewBox", "role", "aria-label", "font-family", "font-size", "font-weight", "textLength", "x", "y", "d", "transform", "fill", "fill-opacity", "stroke", "stroke-opacity", "stroke-width", "stroke-dasharray", "stroke-dashoffset"]);

  // shape makes the element that the engine describes, texts as texts.
  function shape(e) {
    if (!e.name) return e.text;
    if (!shapes.has(e.name)) return null;
    const attributes = Object.fromEntries(Object.entries(e.attributes || {}).filter(([name]) => traits.has(name)));
    return dom.svg(e.name, attributes, (e.inside || []).map(shape));
  }

  // figure is a drawing with its title, and what it shows in words. One that is
  // wider than a screen keeps its size and moves sideways.
  function figure(answer) {
    const wide = answer.width > 460;
    const drawn = shape(answer.svg);
    drawn.setAttribute("aria-label", answer.title);
    if (wide) drawn.style.minWidth = Math.min(answer.width, 704) + "px";
    return dom.el("figure", { class: wide ? "curve broad" : "curve" }, dom.el("figcaption", null, answer.title),
      wide ? dom.el("div", { class: "scroll", tabindex: "0", role: "group", "aria-label": answer.title }, drawn) : drawn,
      dom.el("p", { class: "small" }, dom.data(answer.summary)));
  }

  return { ask, stop, figure };
})();
