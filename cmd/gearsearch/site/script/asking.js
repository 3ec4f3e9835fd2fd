"use strict";

// asking puts questions to the program and shows what it answers, each answer with the
// command line that gives the same in a terminal. An answer belongs to its question: once
// the brief or the parts are others it is marked as old.
const asking = (() => {
  const el = dom.el;
  const all = new Set(); // the replies that are shown: {asked, node, mark}
  const patience = 1000; // ms between two looks at the clock

  // now is what a question is about: answers to another are old.
  const now = (question) => JSON.stringify([question.brief, Boolean(question.strict), question.units]);

  // current is the question as it stands on the page.
  const current = () => state.question("", {});

  // stale tells whether an answer is about another question than the page.
  const stale = (asked) => asked.about !== now(current()) || asked.parts !== state.contents;

  // look marks what is old. It is called whenever something may have changed.
  function look() {
    for (const shown of all) {
      if (!shown.node.isConnected) all.delete(shown);
      else shown.mark();
    }
  }

  // A reader's change of the brief is told at once; parts that are read, by the marks
  // that fresh makes on the body.
  function start() {
    state.onchange(look);
    new MutationObserver(look).observe(document.body, { attributes: true });
  }

  // ask asks in a place. what makes the command: {words, more, kept, name, plain}, the
  // first three as program.command takes them, name what the answer is called; plain: it has
  // no HTML. done is called with the place of the answer when it is there.
  async function ask(place, what, question, done = () => {}) {
    if (place.stop) place.stop();
    const asked = { what, question, about: now(question), parts: state.contents };
    let run = null;
    let over = false;
    let clock = 0;
    const text = el("span", null, "Reading the brief …");
    const halt = () => {
      over = true;
      clearInterval(clock);
      if (run) program.stop(run);
    };
    place.stop = () => over || halt();
    const stopping = el("button", { type: "button", class: "quiet halt" }, "Stop");
    stopping.addEventListener("click", () => {
      halt();
      finish(el("p", { class: "soft" }, "Stopped: there is no answer."));
    });
    const status = el("p", { class: "progress", role: "status" }, el("span", { class: "beat", "aria-hidden": "true" }), " ", text, " ", stopping);
    dom.put(place, status);
    place.dataset.reply = "waiting";

    // finish shows the answer, or why there is none.
    function finish(...nodes) {
      clearInterval(clock);
      over = true;
      const held = place.contains(document.activeElement);
      const old = el("p", { class: "notice old-note", hidden: true }, el("b", null, "This answers the question before: "), "brief or parts are others now. ",
        el("button", { type: "button", class: "quiet again", onclick: () => ask(place, what, current(), done) }, "Ask again"));
      const body = el("div", { class: "reply", tabindex: "-1" }, nodes);
      status.className = "hidden";
      dom.put(status, "Answered: " + what.name + ".");
      [...place.children].filter((n) => n !== status).forEach((n) => n.remove());
      place.append(old, body);
      if (held) body.focus({ preventScroll: true });
      const shown = { node: place, mark() {
        const is = stale(asked);
        old.hidden = !is;
        place.dataset.reply = is ? "old" : "current";
      } };
      all.add(shown);
      place.asked = asked;
      shown.mark();
    }

    const command = await program.command(what, question);
    if (over) return;
    if (command.problems) return finish(el("pre", { class: "notice bad", tabindex: "0" }, command.problems.map((p) => p.text).join("\n")));
    text.textContent = "Fetching the program, which takes a moment the first time …";
    const ready = { args: what.plain ? command.args : [...command.args, "--format", "html"], files: command.files };
    const begun = () => {
      const since = performance.now();
      const tick = () => (text.textContent = `Computing … ${Math.floor((performance.now() - since) / 1000)} s`);
      tick();
      clock = setInterval(tick, patience);
    };
    run = program.run(ready, begun);
    const reply = await run.answer;
    if (over) return;
    const nodes = replied(reply, what, command, place.closest(".questions") ? "h3" : "h2");
    finish(nodes, same(command));
    done(place, reply);
  }

  // line is a command line that breaks between its words alone.
  const line = (text) => el("code", null, text.split(" ").map((word, i) => [i ? " " : "", el("span", { class: word.length < 40 ? "keep" : null }, word)]));

  // same is the command line that gives the same in a terminal, and the files that it takes.
  function same(command) {
    const names = Object.keys(command.files).filter((name) => command.args.some((word) => word === name || word === program.path(name)));
    return el("p", { class: "same" }, el("span", { class: "soft" }, "The same in a terminal", names.length > 0 && [", in a folder with ", names.map((n, i) => [i === 0 ? "" : i < names.length - 1 ? ", " : " and ", dom.data(n)])], ": "), line(program.typed(command.args)));
  }

  // replied is what the program says, and what it writes.
  function replied(reply, what, command, heading) {
    if (reply.fault) return el("p", { class: "notice bad" }, dom.data(reply.fault));
    const nodes = [];
    const whole = wholeFile(reply.out);
    if (whole) nodes.push(el("p", { class: "deeds" }, el("span", null, whole.is + ": save it, and open it by itself."), el("button", { type: "button", class: "save-file", onclick: () => dom.save(whole.name, reply.out) }, "Save ", whole.name)));
    else if (reply.out) {
      const answer = what.plain ? el("pre", { tabindex: "0", class: "plain-answer" }, dom.data(reply.out)) : markup.read(reply.out, what.name, heading);
      if (!what.plain) advice(answer, command, reply);
      nodes.push(answer);
    }
    const wrong = reply.code > 1;
    if (reply.err.trim()) nodes[wrong ? "unshift" : "push"](el("pre", { class: wrong ? "notice bad" : "notes-of-program", tabindex: "0" }, dom.data(reply.err.trim())));
    if (!nodes.length && reply.code) nodes.push(el("p", { class: "notice bad" }, "The program has ended without an answer: exit code " + reply.code + "."));
    const files = Object.entries(reply.files);
    if (files.length) nodes.push(el("p", { class: "deeds" }, files.map(([name, code]) => written(name, program.bytes(code)))));
    return nodes;
  }

  // wholeFile tells an answer that is a file of its own, and no text to read here.
  const wholeFile = (out) => [
    { begins: /^<!doctype html/i, name: "report.html", is: "This answer is a page of its own" },
    { begins: /^<\?xml|^<svg/, name: "drawing.svg", is: "This answer is a drawing" },
  ].find((kind) => kind.begins.test(out));

  // written is what can be done with a file that the program has written.
  function written(name, bytes) {
    const text = name.endsWith(".toml") ? new TextDecoder().decode(bytes) : "";
    const open = () => {
      builds.look(text);
      location.hash = "builds";
    };
    return [el("button", { type: "button", class: "save-file", onclick: () => dom.save(name.split("/").pop(), bytes) }, "Save ", dom.data(name)),
      /^\[build\]/m.test(text) && el("button", { type: "button", class: "open-build", onclick: open }, "Open ", dom.data(name), " on this page")];
  }

  // Commands whose answers are texts, so that there is HTML of them.
  const texts = ["rank", "sheet", "parts", "swap", "vary", "shortlist", "relax", "ideal", "plot", "catalog check", "catalog show"];

  // split are the words of a command line, null where a shell would read them in another
  // way than by spaces and single quotes.
  function split(line) {
    const words = [];
    for (const [, plain, quoted] of line.trim().matchAll(/([^\s'"$`\\;&|<>]+)|'([^']*)'|(\S)/g)) {
      if (plain === undefined && quoted === undefined) return null;
      words.push(plain === undefined ? quoted : plain);
    }
    return words[0] === "gearsearch" ? words.slice(1) : null;
  }

  // plain tells whether a command line has no HTML.
  function plain(words) {
    const verb = words[0] === "catalog" ? words.slice(0, 2).join(" ") : words[0];
    return !texts.includes(verb) || words.some((w) => /^(-h|--?help|--?format|-o|--?o)(=|$)/.test(w));
  }

  // advice makes the commands that an answer advises such that they can be asked here,
  // with the files of that answer, those that it has written, and those that they write.
  function advice(answer, command, reply) {
    const kept = { ...command.files };
    const keep = (files) => Object.assign(kept, files);
    keep(reply.files);
    for (const code of answer.querySelectorAll("pre > code, dd > code")) {
      const rows = code.textContent.split("\n").map((text) => {
        const words = split(text);
        if (!words || plain(words)) return el("li", null, line(text));
        const place = el("div", { class: "said" });
        const what = { name: text, words: () => words, kept };
        const here = el("button", { type: "button", class: "quiet here", "aria-label": "Ask it here: " + text, onclick: () => ask(place, what, current(), (_, said) => keep(said.files)) }, "Ask it here");
        return el("li", null, line(text), " ", here, place);
      });
      (code.closest("pre") || code).replaceWith(el("ul", { class: "commands" }, rows));
    }
  }

  return { start, ask, split, plain };
})();
