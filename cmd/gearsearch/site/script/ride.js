"use strict";

// ride is the first screen: the brief as sentences with blanks. Under each
// sentence stands what its wishes cost.
const ride = (() => {
  const el = dom.el;
  const n = blank.number;

  // The sentences: their texts and blanks.
  const sentences = [
    () => ["The rider weighs ", n("rider.mass_kg"), " with clothes and bag; deck, trucks and box weigh ", n("board.mass_kg"), "."],
    () => ["It has ", blank.choice("board.motors", [["1", "one motor"], ["2", "two motors"], ["4", "four motors"], ["1,2", "one or two motors"], ["2,4", "two or four motors"], ["1,2,4", "one, two or four motors"]]),
      ", and ", n("board.hanger_mm", "any"), " of room for them between the wheels."],
    () => ["From rest it reaches ", n("target.launch_speed_kmh"), " in ", n("target.launch_s"), " or less."],
    () => ["On flat ", blank.word("ground.surface"), " its top speed is at least ", n("target.top_speed_kmh"), " and at most ", n("target.top_speed_max_kmh"), "."],
    () => ["It climbs a hill of ", n("target.climb_grade_pct"), " at ", n("target.climb_speed_kmh"), "."],
    () => ["One charge lasts ", n("target.range_km"), " at ", n("target.cruise_kmh"), "."],
    () => way.sentence(),
    () => ["All parts cost at most ", n("limit.price", "any"), ", and the finished board weighs at most ", n("limit.mass_kg", "any"), "."],
    () => ["Pulley or gear clears the ground by ", n("limit.ground_clearance_mm"), ", and electrical rpm stays ", n("limit.erpm_headroom_pct"), " below the controller’s ceiling, ",
      blank.choice("limit.erpm_rule", [["free-spin", "with the wheels off the ground and a full pack"], ["at-speed", "at the lowest speed asked for"], ["at-top", "at its own top speed with a full pack"]]), "."],
    weights,
  ];

  function weights() {
    const keys = state.words.keys.filter((k) => k.key.startsWith("weights."));
    const parts = ["Builds are ranked by points: "];
    keys.forEach((k, i) => {
      const criterion = state.words.criteria.find((c) => "weights." + c.name === k.key);
      parts.push(el("span", { class: "keep", title: criterion ? criterion.meaning : k.meaning }, k.label, " counts ", n(k.key)), i < keys.length - 1 ? ", " : ".");
    });
    return parts;
  }

  // sentence is a sentence with the places below it for what is wrong with it
  // and for what its wishes cost.
  const sentence = (...text) => el("div", { class: "sentence" }, el("p", null, text), el("p", { class: "wrong", role: "alert" }), el("span", { class: "price" }), el("span", { class: "spreads" }));

  function start() {
    const place = dom.byId("sentences");
    const used = () => new Set([...document.querySelectorAll("#sentences [data-key]")].map((f) => f.dataset.key));
    for (const text of sentences) place.append(sentence(text()));
    fine(used());
    deeds();
  }

  // fine is the rest of the keys, in one paragraph.
  function fine(used) {
    const rest = state.words.keys.filter((k) => !used.has(k.key) && !/^(keep|avoid)\./.test(k.key));
    const line = (k) => {
      let field;
      if (k.flag) field = blank.yes(k.key);
      else if (k.list) field = blank.list(k.key);
      else if (k.words && !k.number) field = blank.word(k.key);
      else if (k.key === "target.charge") field = blank.number(k.key, "nominal");
      else field = blank.number(k.key, shortDefault(k));
      return sentence(el("b", null, k.label), " ", field, " ", el("span", { class: "soft" }, k.meaning));
    };
    const varies = (k) => k.key.startsWith("tolerance.");
    dom.put(dom.byId("fine-print"), el("div", { class: "fine" }, rest.filter((k) => !varies(k)).map(line)),
      el("h2", null, "How far parts and riders vary"),
      el("p", { class: "soft" }, "How far each value may be off, either way. A build's sheet shows what that does; the ranking does not change."),
      el("div", { class: "fine" }, rest.filter(varies).map(line)));
  }

  // shortDefault is a default that fits into a blank.
  const shortDefault = (k) => (/^[\d.]+$/.test(k.default) ? k.default : k.default ? "as usual" : "any");

  function deeds() {
    const pick = el("select", { id: "begin" },
      el("option", { value: "" }, "Start with …"),
      state.words.briefs.map((b) => el("option", { value: b.name }, b.title)),
      el("option", { value: "nothing" }, "All blanks empty"));
    pick.addEventListener("change", async () => {
      const name = pick.value;
      pick.value = "";
      if (name === "nothing") replace({});
      else if (name) replace((await wire.ask({ ask: "demo", name })).answer.values);
    });
    dom.put(dom.byId("ride-deeds"),
      el("label", null, el("span", { class: "hidden" }, "Start with"), pick),
      el("button", { type: "button", onclick: saveBrief }, "Save this brief"));
  }

  async function saveBrief() {
    const reply = await wire.ask(state.question("save", { what: "brief" }));
    if (!reply.answer) return;
    dom.save(reply.answer.name, reply.answer.text);
    const file = way.of(state.brief);
    if (file) dom.save(file.name, new TextDecoder().decode(program.bytes(file.data)));
  }

  // replace puts another brief in the place of this one.
  function replace(values) {
    state.brief = { ...values };
    blank.showAll();
    state.changed();
  }

  // complain says what is wrong under the sentence that it is about.
  function complain(problems) {
    blank.complain(problems);
    for (const sentence of document.querySelectorAll("#ride .sentence")) {
      const keys = [...sentence.querySelectorAll("[data-key]")].map((f) => f.dataset.key);
      const own = problems.filter((p) => keys.includes(p.key));
      dom.put(sentence.querySelector(".wrong"), own.map((p) => dom.data(p.message + (p.hint ? " – " + p.hint : "") + " ")));
      if (own.length && dom.byId("fine").contains(sentence)) dom.byId("fine").open = true;
    }
  }

  // cost says what a wish costs.
  const cost = (w) => ["without ", w.name, ": ", el("b", null, w.without > 0 ? w.text : "no"), w.without === 1 ? " more build" : " more builds"];

  // tell says under each sentence what each of its wishes costs.
  function tell(wishes) {
    for (const sentence of document.querySelectorAll("#ride .sentence")) {
      const keys = [...sentence.querySelectorAll("[data-key]")].map((f) => f.dataset.key);
      const own = wishes.filter((w) => keys.includes(w.key));
      dom.put(sentence.querySelector(".price"), own.map((w, i) => [i ? "; " : "", cost(w)]));
    }
  }

  // spread puts under a sentence how builds spread over one of its wishes, with the
  // wish as a handle on it.
  function spread(answer, name) {
    const field = blank.find(answer.key);
    const place = field && field.closest(".sentence").querySelector(".spreads");
    if (!place) return;
    const old = place.querySelector(`[data-wish="${answer.key}"]`);
    const handle = el("input", { type: "range", min: answer.low, max: answer.high, step: answer.step, value: answer.asked, "aria-label": name });
    handle.addEventListener("input", () => {
      field.value = String(Number(Number(handle.value).toPrecision(12)));
      field.dispatchEvent(new Event("input"));
    });
    const node = el("span", { class: "spread-of", "data-wish": answer.key }, el("span", { class: "soft" }, name), el("span", { class: "ground" }, dom.grow(answer.strip), handle));
    if (!old) place.append(node);
    else if (old.contains(document.activeElement)) old.querySelector("svg").replaceWith(node.querySelector("svg"));
    else old.replaceWith(node);
  }

  // keepOnly keeps the strips of wishes that there still are.
  function keepOnly(keys) {
    for (const node of document.querySelectorAll("[data-wish]")) if (!keys.includes(node.dataset.wish)) node.remove();
  }

  return { start, replace, complain, tell, spread, keepOnly };
})();
