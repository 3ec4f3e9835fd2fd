"use strict";

// blank is a key of the brief as a blank in a sentence: a number or a word to
// be changed in place.
const blank = (() => {
  const el = dom.el;
  const all = []; // {key, node, show}: the blanks there are

  // spoken is what a blank is called to those who do not see the sentence.
  function spoken(info) {
    const unit = info.unit ? ", in " + info.unit : "";
    return info.meaning + unit;
  }

  // number is a blank for a number; unset is what stands in an empty one.
  function number(key, unset) {
    const info = state.key(key);
    const placeholder = unset || info.default || "any";
    const input = el("input", {
      type: "text",
      inputmode: "decimal",
      autocomplete: "off",
      spellcheck: "false",
      "data-key": key,
      "aria-label": spoken(info),
      title: [info.meaning, info.range].filter(Boolean).join("; "),
      placeholder,
    });
    const unit = el("span", { class: "unit", "aria-hidden": "true" });
    const fit = () => {
      input.style.width = Math.max(2, (input.value || placeholder).length) + 1.5 + "ch";
      unit.textContent = /[a-z%°]\s*$/i.test(input.value) ? "" : unitOf(info);
    };
    input.addEventListener("input", () => {
      fit();
      state.set(key, input.value);
    });
    input.addEventListener("keydown", (event) => {
      const up = { ArrowUp: 1, ArrowDown: -1, PageUp: 10, PageDown: -10 }[event.key];
      if (!up || event.ctrlKey || event.metaKey || event.altKey) return;
      event.preventDefault();
      input.value = stepped(input.value || info.default, up);
      fit();
      state.set(key, input.value);
    });
    const show = () => {
      const text = state.brief[key] || "";
      if (document.activeElement !== input || input.value.trim() !== text.trim()) input.value = text;
      fit();
    };
    const node = el("span", { class: "blank" }, input, unit);
    all.push({ key, node: input, show });
    show();
    return node;
  }

  function unitOf(info) {
    if (info.key === "limit.price") return " " + (state.contents ? state.contents.currency : "");
    return info.unit ? " " + info.unit : "";
  }

  // stepped is a number in a text moved by some steps, of a size that suits
  // it; a unit behind it is kept.
  function stepped(text, steps) {
    const match = /^(\s*)(\d+[.,]?\d*|[.,]\d+)(.*)$/.exec(text || "");
    if (!match) return text || "";
    const plain = match[2].replace(",", ".");
    const decimals = (plain.split(".")[1] || "").length;
    const value = Number(plain);
    const size = value >= 1000 ? 10 : decimals > 0 ? Math.pow(10, -Math.min(decimals, 2)) : 1;
    const moved = Math.max(0, value + steps * size).toFixed(decimals);
    return (match[2].includes(",") ? moved.replace(".", ",") : moved) + match[3];
  }

  // choice is a blank for a word; options are [value, text], among them the
  // default, which stands in an empty one, or first an empty one of its own.
  function choice(key, options) {
    const info = state.key(key);
    const select = el("select", { "data-key": key, "aria-label": spoken(info), title: info.meaning });
    select.addEventListener("change", () => state.set(key, select.value));
    const show = () => {
      const now = state.brief[key] || (options[0][0] === "" ? "" : info.default);
      const own = options.some(([value]) => value === now) ? [] : [[now, now]];
      dom.put(select, [...options, ...own].map(([value, text]) => el("option", { value }, text)));
      select.value = now;
    };
    all.push({ key, node: select, show });
    show();
    return el("span", { class: "blank" }, select);
  }

  // word is a choice of the words that the engine knows for a key.
  function word(key) {
    const info = state.key(key);
    return choice(key, info.words.map((w) => [w, w]));
  }

  // yes is a choice of yes and no, and of neither where that is another answer.
  function yes(key) {
    const info = state.key(key);
    const none = info.default === "false" ? "no" : info.default;
    const select = el("select", { "data-key": key, "aria-label": spoken(info), title: info.meaning });
    select.addEventListener("change", () => state.set(key, select.value));
    const show = () => {
      const now = state.brief[key] || "";
      const options = [["", none], ["true", "yes"], ...(none !== "no" || now === "false" ? [["false", "no"]] : [])];
      if (now && !options.some(([value]) => value === now)) options.push([now, now]);
      dom.put(select, options.map(([value, text]) => el("option", { value }, text)));
      select.value = now;
    };
    all.push({ key, node: select, show });
    show();
    return el("span", { class: "blank" }, select);
  }

  // list is a list of words: each that is on it, to be taken off, and the others to be
  // added.
  function list(key) {
    const info = state.key(key);
    const say = (word) => info.subjects[info.words.indexOf(word)] || word;
    const place = el("span", { class: "listed", role: "group", "aria-label": spoken(info) });
    const add = el("select", { "data-key": key, "aria-label": "add to: " + spoken(info) });
    const words = () => state.list(key).filter((word) => word !== "none");
    const write = (now) => {
      state.set(key, now.join(","));
      show();
    };
    add.addEventListener("change", () => add.value && write([...words(), add.value]));
    const off = (word) => () => {
      write(words().filter((w) => w !== word));
      add.focus();
    };
    function show() {
      const now = words();
      const rest = info.words.filter((word) => !now.includes(word));
      dom.put(add, el("option", { value: "" }, now.length ? "and …" : "none"), rest.map((word) => el("option", { value: word }, say(word))));
      add.value = "";
      for (const old of place.querySelectorAll("button")) old.remove();
      add.before(...now.map((word) => el("button", { type: "button", onclick: off(word) }, dom.data(say(word)), el("span", { "aria-hidden": "true" }, " ×"), el("span", { class: "hidden" }, ", take it off"))));
    }
    place.append(add);
    all.push({ key, node: add, show });
    show();
    return place;
  }

  // showAll brings every blank up to the state.
  const showAll = () => all.forEach((b) => b.show());

  // find is the field of a key.
  const find = (key) => (all.find((b) => b.key === key) || {}).node;

  // complain marks the blanks whose keys have a problem.
  function complain(problems) {
    for (const { key, node } of all) {
      const wrong = problems.some((p) => p.key === key);
      if (wrong) node.setAttribute("aria-invalid", "true");
      else node.removeAttribute("aria-invalid");
    }
  }

  return { number, choice, word, yes, list, showAll, find, complain };
})();
