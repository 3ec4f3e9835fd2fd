"use strict";

// way is the way to ride: an embedded one, or a file of the reader's, of which the program
// makes the table that the engine reads.
const way = (() => {
  const el = dom.el;
  const key = "ride.route";
  let turn = 0; // of the last file: answers about others are dropped

  const says = el("span", { id: "way-says", role: "status" });
  const say = (text, wrong) => {
    says.className = wrong ? "not-read" : "soft";
    dom.put(says, text && [" ", dom.data(text)]);
  };

  // chooser is where a file is chosen.
  function chooser() {
    const input = el("input", { type: "file", id: "choose-way", accept: ".gpx,.csv" });
    input.addEventListener("change", async () => {
      const [file] = input.files;
      if (file) await take({ name: file.name, data: await files.base64(file) });
      input.value = "";
    });
    return [el("label", { for: "choose-way", class: "choose" }, "a GPX or CSV file", input), el("span", { class: "soft" }, ", which never leaves this computer"), says];
  }

  // named is the name of the table that is made of a file.
  const named = (name) => name.replace(/\.(gpx|csv)$/i, "").replace(/[^\p{L}\p{N} ._()-]/gu, "_") + ".csv";

  // take has the program read a file, {name, data}. One with a mistake leaves the way as it is.
  async function take(file) {
    const mine = ++turn;
    say(`Reading ${file.name} …`);
    const reply = await program.run({ args: ["route", program.path(file.name), "--format", "csv"], files: { [file.name]: file.data } }).answer;
    if (mine !== turn) return;
    if (reply.code !== 0) return say(`Not read: ${(reply.fault || reply.err || "the program was stopped").replace(/^gearsearch: /, "").trim()}`, true);
    say(reply.err.trim());
    state.way = { name: named(file.name), data: program.base64(reply.out) };
    state.set(key, state.way.name);
    blank.showAll();
  }

  // sentence is what the ride says of the way.
  function sentence() {
    const routes = state.words.routes.map((r) => [r.name, r.title]);
    return ["It comes home over ", blank.choice(key, [["", "no route"], ...routes]), ", or over ", chooser(), ". At its end ", blank.number("limit.reserve_pct"),
      " of the usable charge is left, and the windings stay below ", blank.number("limit.winding_max_c"), "."];
  }

  // of is the file that a brief names, null where it names none of the reader's.
  const of = (brief) => (state.way && brief[key] === state.way.name ? state.way : null);

  return { key, take, sentence, of };
})();
