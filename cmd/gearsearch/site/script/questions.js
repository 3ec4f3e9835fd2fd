"use strict";

// questions are the questions of the command line as sentences with blanks: those about
// one build stand in its sheet, those about all builds on a screen of their own.
const questions = (() => {
  const el = dom.el;
  const filled = {}; // what stands in blanks, by sentence and blank
  const answers = new Map(); // places of answers about a build, by its file and the sentence

  // blanks are those of a sentence: value(name) is what stands in one.
  function blanks(sentence) {
    const held = (filled[sentence] = filled[sentence] || {});
    const value = (name) => (held[name] || "").trim();

    // line is a blank for numbers or words; unset stands in an empty one, unit behind it.
    function line(name, label, unset, unit) {
      const input = el("input", { type: "text", autocomplete: "off", spellcheck: "false", "aria-label": label + (unit ? ", in " + unit : ""), placeholder: unset, "data-blank": name, value: held[name] || "" });
      const fit = () => (input.style.width = Math.max(2, (input.value || unset).length) + 1.5 + "ch");
      input.addEventListener("input", () => {
        held[name] = input.value;
        fit();
      });
      input.addEventListener("keydown", (event) => {
        if (event.key === "Enter") input.closest(".question").querySelector(".ask").click();
      });
      fit();
      return el("span", { class: "blank" }, input, unit && el("span", { class: "unit", "aria-hidden": "true" }, " " + unit));
    }

    // choice is a blank for one of some words: options are [value, text]. What stands in it
    // first is the first of them, or one that is named.
    function choice(name, label, options, first = options[0][0]) {
      if (!options.some(([v]) => v === held[name])) held[name] = first;
      const select = el("select", { "aria-label": label, "data-blank": name }, options.map(([v, text]) => el("option", { value: v, selected: v === held[name] }, text)));
      select.addEventListener("change", () => (held[name] = select.value));
      return el("span", { class: "blank" }, select);
    }

    return { line, choice, value, held };
  }

  // listed is a list of values as the program takes it, each with a unit where it has none.
  const listed = (text, unit) => text.split(/[,;\s]+/).filter(Boolean).map((v) => (unit && /^[\d.]+$/.test(v) ? v + unit : v)).join(",");

  // question is a sentence with its blanks, and the place of its answer below. of makes
  // {text, words, more, plain} of the blanks; words() may return a text that says what is
  // missing. about is the question that it is about, place one that has an answer already.
  function question(name, of, about, place = el("div", { class: "said" })) {
    const b = blanks(name);
    const spec = of(b);
    const wrong = el("p", { class: "wrong", role: "alert" });
    const go = () => {
      const words = spec.words();
      dom.put(wrong, typeof words === "string" ? words : "");
      if (typeof words === "string") return;
      asking.ask(place, { name: spec.name, words, more: spec.more && spec.more(), plain: spec.plain && spec.plain(words) }, about(), spec.done);
    };
    return el("div", { class: "question", "data-question": name },
      el("p", null, spec.text, " ", el("button", { type: "button", class: "ask", "aria-label": "Ask: " + spec.name, onclick: go }, "Ask")), wrong, place);
  }

  // listing says how many builds are listed, and whether those that are like a better one.
  const listing = () => ["--top", String(state.top), ...(state.every ? ["--apart", "none"] : [])];

  const figures = () => state.words.figures.map((f) => [f.name, f.title]);

  // ofBuild are the questions about a build: {name, of}.
  function ofBuild(build) {
    const more = () => ({ "build.toml": build.file });
    const changes = [["", "parts, each in turn"], ...["wheel", "drive", "motor", "motors", "battery", "controller"].map((s) => [s, s === "motors" ? "number of motors" : s]),
      ...build.slots.filter((s) => !["wheel", "motor", "battery", "controller"].includes(s.name)).map((s) => [s.name, s.title])];
    return [
      ["swap", (b) => ({
        name: "what a change of parts does", more,
        text: ["Keep this build and change its ", b.choice("change", "what to change", changes), "."],
        words: () => ["swap", "build.toml", ...(b.value("change") ? ["--change", b.value("change")] : []), "--all"],
      })],
      ["vary", (b) => ({
        name: "what other numbers do", more,
        text: ["What becomes of it with kv ", b.line("kv", "kv, several with commas", "150, 180"), ", with ", b.line("series", "cells in series", "11"), " cells in series, ",
          b.line("teeth", "teeth on the motor and on the wheel, as in 14:48", "14:48"), " teeth, a reduction of ", b.line("ratio", "reduction", "3.2"), ", wheels of ", b.line("wheel-size", "diameter of the wheels", "100, 120", "mm"),
          ", ", b.choice("all", "how the changes go together", [["", "one change at a time"], ["--all", "all of them together"]]), "?"],
        words: () => {
          const flags = ["kv", "series", "teeth", "ratio", "wheel-size"].filter((n) => b.value(n)).flatMap((n) => ["--" + n, listed(b.value(n), n === "wheel-size" ? "mm" : "")]);
          return flags.length ? ["vary", "build.toml", ...flags, ...(b.value("all") ? ["--all"] : [])] : "Fill in a blank: a kv, a number of cells, teeth, a reduction or a wheel.";
        },
      })],
      ["parts", () => ({ name: "the shopping list", more, text: "What is to be bought for it, with all that it needs around it?", words: () => ["parts", "build.toml"] })],
      ["why", () => ({ name: "how each figure is computed", more, text: "How is each of its figures computed, with its numbers put in and its source?", words: () => ["sheet", "build.toml", "--full", "--why"] })],
      ["stands", (b) => ({
        name: "where it stands among all builds", more,
        text: ["Where does it stand among all builds that do it, by ", b.choice("x", "the figure across", figures(), "price"), " and ", b.choice("y", "the figure up", figures(), "range_km"), "?"],
        words: () => b.value("x") === b.value("y") ? "Choose two figures that differ." : ["plot", "build.toml", "front", "--axes", b.value("x") + "," + b.value("y")],
      })],
    ];
  }

  // of is the part of a build's sheet with the questions about it; about is the question
  // that the sheet answers. Answers stay when the sheet is drawn anew, and are old then.
  function of(build, about) {
    const place = (name) => {
      const key = name + " " + build.file;
      if (!answers.has(key)) answers.set(key, el("div", { class: "said" }));
      return answers.get(key);
    };
    return el("div", { class: "questions", role: "group", "aria-label": "Ask more of this build" }, el("h2", null, "Ask more of this build"),
      ofBuild(build).map(([name, spec]) => question(name, spec, () => about, place(name))));
  }

  // ofAll are the questions about all builds.
  function ofAll() {
    const slots = () => [...state.words.slots.map((s) => [s.name, s.called]), ["drive", "drive"]];
    const other = { name: "other.toml", text: "" }; // a second brief of the reader's
    return [
      ["shortlist", (b) => ({ name: "which parts open the most builds", text: ["Which ", b.choice("slot", "the kind of part", slots(), "motor"), " opens the most builds?"], words: () => ["shortlist", b.value("slot")] })],
      ["relax", (b) => ({
        name: "what each wish costs", text: ["What does each wish cost, and on what is it least to give way for ", b.line("builds", "how many builds are wanted", "1"), " or more builds to do it?"],
        words: () => ["relax", ...(b.value("builds") ? ["--builds", b.value("builds")] : [])],
      })],
      ["ideal", () => ({ name: "the best kv, reduction and wheel", text: "Which kv, reduction and wheel would be best, if any could be bought, and how near do these parts come?", words: () => ["ideal"] })],
      ["front", (b) => ({
        name: "builds that no other beats", text: ["Which builds does no other beat on ", b.choice("x", "the first figure", figures(), "price"), " and ", b.choice("y", "the second figure", figures(), "range_km"), " and ", b.choice("z", "a third figure", [["", "nothing else"], ...figures()]), "?"],
        words: () => ["rank", "--front", [...new Set([b.value("x"), b.value("y"), b.value("z")])].filter(Boolean).join(","), ...listing()],
        done: (place) => plane(place, b.value("x"), b.value("y")),
      })],
      ["stability", () => ({ name: "how firm the order is", text: "How far may the weights move before another build is first, and how often does each of the best win with random weights?", words: () => ["rank", "--stability", ...listing()] })],
      ["tolerance", (b) => ({
        name: "how often builds pass when parts and rider vary", text: ["How often does each of the best pass when parts and rider vary, ", b.choice("by", "the order", [["score", "those with most points"], ["robust", "those that pass most often"]]), " first?"],
        words: () => ["rank", "--tolerance", "--by", b.value("by"), ...listing()],
      })],
      ["teeth", () => ({ name: "top speed by teeth", text: "Which teeth give which top speed? A press on a pair ranks the builds that have it.", words: () => ["rank", "--chart", "teeth"], done: pairs })],
      ["share", (b) => ({
        name: "boards that share parts",
        text: ["Which two boards can share the ", b.line("slots", "parts in common, with commas between them", "battery, motor, controller"), ": one for this brief, and one for ",
          b.choice("other", "the second brief", [...state.words.briefs.map((x) => ["demo:" + x.name, x.title]), ["file", "a brief file of mine"]]), " ", fileBlank(other), "?"],
        more: () => (b.value("other") === "file" ? { [other.name]: other.text } : {}),
        words: () => {
          if (b.value("other") === "file" && !other.text) return "Choose the second brief: a file as this page saves it.";
          return ["rank", "--share", listed(b.value("slots") || "battery, motor, controller"), "--brief", b.value("other") === "file" ? other.name : b.value("other")];
        },
      })],
      ["check", () => ({ name: "what is doubtful in these parts", text: "What is doubtful in these parts, what is of no use, and which values are missing?", words: () => (paths) => ["catalog", "check", ...paths, "--brief", "brief.toml"] })],
      ["convert", (b) => ({
        name: "the parts in another form", plain: () => true,
        text: ["Turn these parts into ", b.choice("out", "the form", [["parts-csv", "CSV files for a spreadsheet"], ["again.toml", "one TOML file"]]), "."],
        words: () => (paths) => ["catalog", "convert", ...paths, b.value("out")],
      })],
      ["typed", (b) => ({
        name: "a command line", text: ["Any other question of the program: gearsearch ", b.line("line", "a command line without the name of the program", "rank --help")],
        plain: (words) => asking.plain(typeof words === "function" ? words([]) : words),
        words: () => {
          const words = asking.split("gearsearch " + (b.value("line") || "rank --help"));
          return words ? () => words : "Write words with spaces between them; one with a space in it, between single quotes.";
        },
      })],
    ];
  }

  // plane draws over an answer all builds that do it in the plane of two figures.
  async function plane(place, x, y) {
    if (x === y) return;
    const reply = await wire.ask({ ...place.asked.question, ask: "field", top: state.top, x, y });
    const body = place.querySelector(".reply");
    if (!body || !reply.answer) return;
    body.prepend(reply.answer.field ? dom.grow(reply.answer.field) : el("p", { class: "soft" }, "No drawing: ", dom.data(reply.answer.missing), "."));
  }

  // fileBlank is a blank for a file, whose text goes to where.
  function fileBlank(to) {
    const name = el("span", null, "choose it");
    const input = el("input", { type: "file", "aria-label": "the second brief as a file" });
    input.addEventListener("change", async () => {
      if (!input.files[0]) return;
      to.text = await input.files[0].text();
      dom.put(name, dom.data(input.files[0].name));
    });
    return el("label", { class: "choose" }, name, input);
  }

  // pairs makes the pairs of teeth in a chart such that a press ranks the builds with one.
  function pairs(place) {
    for (const table of place.querySelectorAll("table")) {
      const heads = [...table.querySelectorAll("thead th")].map((h) => h.textContent.trim());
      if (!heads.slice(1).every((h) => /^\d+$/.test(h))) continue;
      for (const row of table.querySelectorAll("tbody tr")) {
        const motor = row.querySelector("th").textContent.trim();
        [...row.querySelectorAll("td")].forEach((cell, i) => {
          const text = cell.textContent.trim();
          if (!text) return;
          const pair = { profile: heads[0], motor: Number(motor), wheel: Number(heads[i + 1]) };
          dom.put(cell, el("button", { type: "button", class: "quiet teeth-pair", "aria-label": `${text}: rank builds with ${motor} and ${heads[i + 1]} teeth, ${heads[0]}`, onclick: () => keepPair(place, pair) }, text));
        });
      }
    }
  }

  // keepPair sets the brief to the pulleys of a pair, as the chart has them as data.
  async function keepPair(place, pair) {
    const command = await program.command({ words: ["rank", "--chart", "teeth", "--format", "json"] }, place.asked.question);
    if (command.problems) return;
    const reply = await program.run(command).answer;
    if (reply.code !== 0) return;
    const cell = JSON.parse(reply.out).cells.find((c) => c.profile === pair.profile && c.motor_teeth === pair.motor && c.wheel_teeth === pair.wheel);
    if (!cell) return;
    const gears = await idsOf("gear_drive");
    state.brief["keep.motor_pulley"] = cell.parts.motor_pulley;
    state.brief["keep.wheel_pulley"] = cell.parts.wheel_pulley;
    if (gears.length) state.brief["avoid.gear_drive"] = gears.join(",");
    blank.showAll();
    state.changed();
    location.hash = "builds";
  }

  // idsOf are the ids of all parts of a kind.
  async function idsOf(kind) {
    const ids = [];
    for (;;) {
      const reply = await wire.ask({ ask: "shelf", slot: "", kind, find: "", from: ids.length });
      if (!reply.answer || !reply.answer.parts.length) return ids;
      ids.push(...reply.answer.parts.map((p) => p.id));
    }
  }

  // Questions that the page does not ask, and what does.
  const elsewhere = [
    ["gearsearch page try", "writes this page to a folder"],
    ["gearsearch completion bash", "teaches a shell to complete commands"],
    ["gearsearch catalog add motor", "asks for a new part key by key, as the screen of parts does here"],
  ];

  // start draws the screen of questions about all builds.
  function start() {
    asking.start();
    dom.put(dom.byId("questions"), ofAll().map(([name, spec]) => question(name, spec, () => state.question("", {}))),
      el("p", { class: "soft" }, "Only a terminal answers these: ", elsewhere.map(([line, does], i) => [i ? "; " : "", el("code", null, line), " ", does]), "."));
  }

  return { of, start };
})();
