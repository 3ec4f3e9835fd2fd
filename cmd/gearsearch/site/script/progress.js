"use strict";

// progress shows how far a search is that takes long, with the best so far, and stops
// it. What it showed when it was stopped stays, and says that it is not all.
const progress = (() => {
  const el = dom.el;
  const bar = el("progress", { max: "1", "aria-labelledby": "progress-text" });
  const text = el("span", { id: "progress-text" });
  const stop = el("button", { type: "button", id: "stop", onclick: halt }, "Stop");
  let wanted = true; // the search is to go on

  function halt() {
    wanted = false;
    stop.disabled = true;
    wire.ask({ ask: "stop" });
  }

  const place = () => dom.byId("progress");
  const note = (...what) => dom.put(dom.byId("sofar"), what.length > 0 && el("p", { class: "notice" }, what));

  // begin is called when another question is asked.
  function begin() {
    wanted = true;
    stop.disabled = false;
    rest();
    note();
  }

  // show shows how far a search is; what says what it is looking for.
  function show(what, far) {
    if (!wanted) return;
    bar.value = far.part;
    text.textContent = `${what}: ${far.text}`;
    if (!place().hidden) return;
    dom.put(place(), bar, text, stop);
    place().style.bottom = dom.byId("status").offsetHeight + "px"; // which may be of two lines
    place().hidden = false;
  }

  // sofar says over the builds that they are the best so far.
  const sofar = () => note(el("b", null, "These are the best so far."), " The search goes on; better ones may come.");

  // stopped says that an answer is not whole, with what it lacks, and offers to ask
  // again.
  function stopped(lacks, again) {
    rest();
    note(el("b", null, dom.data(lacks)), " ", el("button", { type: "button", id: "search-on", onclick: again }, "Search on, from the beginning"));
  }

  // rest: no search is under way.
  function rest() {
    const held = place().contains(document.activeElement);
    place().hidden = true;
    if (held) dom.byId("stage").focus({ preventScroll: true });
  }

  // whole: the answer is all there; what was said of a part of it is over.
  function whole() {
    rest();
    note();
  }

  return { begin, show, sofar, stopped, rest, whole, halted: () => !wanted };
})();
