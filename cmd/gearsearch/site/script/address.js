"use strict";

// address is the question in the page's own address, behind #: the screen, the brief,
// and how answers are wanted. It is sent nowhere; copied, it opens the same question
// in another browser. It does not hold parts of the reader's own.
const address = (() => {
  const soon = 300; // ms after a change: there may be another at once
  const most = 4000; // characters that are read of an address
  const plain = { units: "metric", top: "20", strict: "", every: "" }; // what need not be said
  let due = 0;
  let still = true; // the address stays as it is
  const given = location.hash; // with which the page was opened

  // read is what an address says behind #: its screen, and its question, null for none.
  function read(hash) {
    const [screen, ...rest] = hash.slice(1).split("?");
    const text = rest.join("?");
    if (!rest.length || text.length > most) return { screen, question: null };
    const said = new URLSearchParams(text);
    const brief = {};
    for (const [key, value] of said) if (state.words && state.key(key)) brief[key] = value;
    return {
      screen,
      question: {
        brief,
        strict: said.get("strict") === "1",
        every: said.get("every") === "1",
        units: said.get("units") === "imperial" ? "imperial" : "metric",
        top: [10, 20, 50, 100].includes(Number(said.get("top"))) ? Number(said.get("top")) : 20,
      },
    };
  }

  // asked is the question as it stands, as in an address.
  function asked() {
    const { brief, units, top, strict, every } = state;
    const ways = { units, top: String(top), strict: strict ? "1" : "", every: every ? "1" : "" };
    const said = new URLSearchParams(Object.entries(brief));
    for (const [key, value] of Object.entries(ways)) if (value !== plain[key]) said.set(key, value);
    return said.toString().replaceAll("%2C", ",").replaceAll("%2F", "/").replaceAll("%3A", ":");
  }

  // put writes the question behind the screen. Where much of it is other than before,
  // what was there stays one step back.
  function put() {
    clearTimeout(due);
    due = 0;
    if (still) return;
    const next = `#${document.body.dataset.screen}?${asked()}`;
    if (next === location.hash) return;
    const before = read(location.hash);
    const changed = before.question ? new Set([...Object.keys(before.question.brief), ...Object.keys(state.brief)].filter((k) => before.question.brief[k] !== state.brief[k])).size : 0;
    try {
      history[changed > 1 ? "pushState" : "replaceState"](null, "", next);
    } catch (error) {
      // a browser that gives pages of a disk no history
    }
  }

  // take takes over the question that the address holds, if it is another than the one
  // that stands; it reports whether it is.
  function take() {
    const question = read(location.hash).question || (still && read(given).question);
    if (!question) return false;
    const before = asked();
    Object.assign(state, question);
    return asked() !== before;
  }

  // link is the whole address with the question as it stands.
  function link() {
    put();
    return location.href;
  }

  function start() {
    state.onchange(() => {
      clearTimeout(due);
      due = setTimeout(put, soon);
    });
    still = false;
    put();
  }

  // forget leaves no question in the address.
  function forget() {
    still = true;
    history.replaceState(null, "", location.pathname + location.search);
  }

  const screen = () => read(location.hash).screen;

  // renewed reports whether the page was loaded again where it was: what the browser
  // keeps is newer then than the address.
  const renewed = () => performance.getEntriesByType("navigation").some((n) => n.type === "reload");

  return { screen, renewed, take, put, link, start, forget };
})();
