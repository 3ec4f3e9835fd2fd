"use strict";

// drawing is the ride as a picture: the start, the flat, the hill at its true
// slope, the length of the way. It repeats what the sentences say; a press on a
// text in it leads to the sentence.
const drawing = (() => {
  const svg = dom.svg;
  const height = 190;
  const ground = 138; // y of the flat

  // grade is the slope that a text asks for, rise over run.
  function grade(text) {
    const x = parseFloat((text || "").replace(",", "."));
    if (!(x > 0)) return 0;
    return /(deg|°)\s*$/i.test(text) ? Math.tan((Math.min(x, 80) * Math.PI) / 180) : x / 100;
  }

  // said is a value with its unit; "" where nothing is asked.
  function said(key, fallback) {
    const text = state.brief[key] || fallback || "";
    if (!text) return "";
    return /[a-z%°]\s*$/i.test(text) ? text : text + " " + (state.key(key).unit || "");
  }

  function speed() {
    const least = said("target.top_speed_kmh");
    const most = said("target.top_speed_max_kmh");
    if (least && most) return least + " to " + most;
    return least ? least + " or more" : most ? most + " at most" : "";
  }

  function launch() {
    const time = said("target.launch_s");
    const to = said("target.launch_speed_kmh");
    return time && to ? "to " + to + " in " + time : "";
  }

  function hill() {
    const g = said("target.climb_grade_pct");
    return g ? [g, "at " + said("target.climb_speed_kmh", state.key("target.climb_speed_kmh").default)] : [];
  }

  function label(key, x, y, anchor, lines) {
    const go = () => {
      const field = blank.find(key);
      field.scrollIntoView({ block: "center" });
      field.focus();
    };
    return svg("text", { x, y, "text-anchor": anchor, class: "say", onclick: go },
      lines.map((line, i) => svg("tspan", { x, dy: i ? 17 : 0 }, line)));
  }

  // board is a rider on a board at a place, leaning with the slope.
  function board(x, y, angle) {
    return svg("g", { class: "board", transform: `translate(${x} ${y}) rotate(${-angle})` },
      svg("circle", { cx: -15, cy: -5, r: 5 }),
      svg("circle", { cx: 15, cy: -5, r: 5 }),
      svg("path", { d: "M-25 -15 l6 3 h38 l6 -3", class: "deck" }),
      svg("path", { d: "M-8 -12 l3 -15 l6 -16 M10 -12 l-3 -15 l-6 -16 M1 -43 v-6 M1 -41 l-9 12 M1 -41 l11 9", class: "rider" }),
      svg("circle", { cx: 2, cy: -55, r: 6, class: "head" }));
  }

  function draw() {
    const node = dom.byId("drawing");
    const width = node.clientWidth;
    if (!width) return;
    const slope = Math.min(grade(state.brief["target.climb_grade_pct"]), 1.2);
    const foot = Math.round(width * (width < 520 ? 0.52 : 0.6));
    const run = Math.min(width - foot - 10, (ground - 24) / Math.max(slope, 0.01));
    const top = ground - run * slope;
    const crest = foot + run;
    const angle = (Math.atan(slope) * 180) / Math.PI;
    const along = run * 0.55;
    const range = said("target.range_km");
    const [rise, pace] = hill();
    node.setAttribute("viewBox", `0 0 ${width} ${height}`);
    node.setAttribute("height", height);
    dom.put(node,
      svg("path", { class: "hill", d: `M0 ${ground} H${foot} L${crest} ${top} H${width} V${ground + 8} H0 Z` }),
      svg("path", { class: "road", d: `M0 ${ground} H${foot} L${crest} ${top} H${width}` }),
      board(Math.min(foot * 0.36, 190), ground, 0),
      slope > 0 && board(foot + along, ground - along * slope, angle),
      launch() && label("target.launch_s", 8, 20, "start", [launch()]),
      speed() && label("target.top_speed_kmh", 8, launch() ? 40 : 20, "start", [speed()]),
      rise && label("target.climb_grade_pct", width - 6, ground + 26, "end", [rise + " " + pace]),
      range && svg("path", { class: "way", d: `M4 ${height - 12} H${width - 4} M4 ${height - 17} v10 M${width - 4} ${height - 17} v10` }),
      range && label("target.range_km", 8, ground + 26, "start", [range + " on a charge"]));
  }

  return { draw };
})();
