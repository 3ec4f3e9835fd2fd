"use strict";

// keep holds what the reader has said and dropped in the browser's own storage,
// so that it is there after a reload. It goes nowhere else, and is forgotten on
// demand.
const keep = (() => {
  const el = dom.el;
  const name = "gearsearch-page";
  const shelf = "gearsearch-boards"; // of boards kept under names
  const schema = 1;
  const most = 2_000_000; // characters; browsers give about five million to all pages of a place
  const wait = 400; // after a change, ms: there may be another at once
  let due = 0;
  let works = true; // the storage takes what it is given
  let large = false; // the files are too large for it
  let over = false; // all is to be forgotten

  const isText = (x) => typeof x === "string";

  // kept is what is there from the last time, null for nothing.
  function kept() {
    let was;
    try {
      was = JSON.parse(localStorage.getItem(name));
    } catch (error) {
      works = false;
      return null;
    }
    return was && was.schema === schema ? understood(was) : null;
  }

  // understood is what makes sense of what was kept.
  function understood(was) {
    const brief = Object.entries(was.brief || {}).filter(([key, text]) => state.key(key) && isText(text));
    return {
      brief: Object.fromEntries(brief),
      files: (Array.isArray(was.files) ? was.files : []).filter((f) => f && isText(f.name) && isText(f.data)).map((f) => ({ name: f.name, data: f.data })),
      own: (Array.isArray(was.own) ? was.own : []).filter((d) => d && isText(d.kind) && d.cells && Object.values(d.cells).every(isText)).map((d) => ({ kind: d.kind, cells: { ...d.cells } })),
      demo: was.demo !== false,
      strict: was.strict === true,
      every: was.every === true,
      units: was.units === "imperial" ? "imperial" : "metric",
      top: [10, 20, 50, 100].includes(was.top) ? was.top : 20,
      build: isText(was.build) ? was.build : "",
      way: was.way && isText(was.way.name) && isText(was.way.data) ? { name: was.way.name, data: was.way.data } : null,
    };
  }

  // restore puts it into the state, and returns it; null for nothing.
  function restore() {
    const was = kept();
    if (was) Object.assign(state, was);
    tell();
    return was;
  }

  // boards are those kept under names.
  function boards() {
    try {
      const was = JSON.parse(localStorage.getItem(shelf));
      if (!was || was.schema !== schema || !Array.isArray(was.boards)) return [];
      return was.boards.filter((b) => b && isText(b.name)).map((b) => ({ name: b.name, ...understood(b) }));
    } catch (error) {
      return [];
    }
  }

  // keepBoards keeps these boards in the place of those before, and reports whether
  // there is room for them.
  function keepBoards(list) {
    const text = JSON.stringify({ schema, boards: list });
    if (text.length > most) return false;
    try {
      localStorage.setItem(shelf, text);
      return true;
    } catch (error) {
      return false;
    }
  }

  function write() {
    clearTimeout(due);
    due = 0;
    if (over) return;
    const { brief, strict, every, units, top, demo, files, own, build, way } = state;
    const rest = { schema, brief, strict, every, units, top, demo: true, files: [], build };
    let text = JSON.stringify({ ...rest, demo, files, own, way });
    large = text.length > most;
    if (large) text = JSON.stringify(rest);
    try {
      localStorage.setItem(name, text);
      works = true;
    } catch (error) {
      works = false;
    }
    tell();
  }

  // soon writes what has changed, once the changes pause.
  function soon() {
    clearTimeout(due);
    due = setTimeout(write, wait);
  }

  function forget() {
    over = true;
    try {
      localStorage.removeItem(name);
      localStorage.removeItem(shelf);
    } catch (error) {
      // nothing was kept
    }
    address.forget();
    location.reload();
  }

  // tell says what is kept, and offers to forget it.
  function tell() {
    const node = dom.byId("kept");
    if (node.contains(document.activeElement)) return;
    if (!works) {
      dom.put(node, "This browser stores nothing for this page: save your brief and your files before you close it.");
      return;
    }
    const button = el("button", { type: "button", class: "quiet", id: "forget" }, "Forget them");
    button.addEventListener("click", () => {
      if (button.dataset.sure) return forget();
      button.dataset.sure = "true";
      dom.put(button, "Really forget brief, files and boards, and start over");
    });
    dom.put(node, large ? "Your brief is kept in this browser for next time; your files are too large to keep: drop them again then. " : "Your brief and the files that you drop are kept in this browser for next time. ", button);
  }

  function start() {
    state.onchange(soon);
    addEventListener("pagehide", () => due && write());
    document.addEventListener("visibilitychange", () => due && document.visibilityState === "hidden" && write());
  }

  return { restore, start, soon, boards, keepBoards };
})();
