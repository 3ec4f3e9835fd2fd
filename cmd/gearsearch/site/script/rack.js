"use strict";

// rack draws how far a build is from each of its limits: a row of teeth on the
// line of the limits, each as high as its margin.
const rack = (() => {
  const el = dom.el;
  const full = 100; // percent: a tooth is not higher

  const row = (name) => state.words.checks.find((c) => c.name === name);

  // size is a margin without its sign; what is not nothing is not rounded to
  // nothing.
  function size(margin) {
    const x = Math.abs(margin);
    if (x === 0 || x >= 0.5) return x.toFixed(0);
    return x < 0.05 ? "<0.1" : x.toFixed(1);
  }

  const percent = (margin) => (margin >= 0 ? "+" : "−") + size(margin) + "%";

  const signs = { "!": "thin", "!!": "over", "?": "open" };

  // spoken is an outcome in words.
  function spoken(c) {
    if (c.verdict === "unknown") return `${c.subject}: not decided, for lack of data`;
    if (c.margin === null) return `${c.subject}: does not fit`;
    const room = c.margin >= 0 ? `${size(c.margin)} % to spare` : `${size(c.margin)} % ${row(c.name).lower ? "short" : "over"}`;
    return `${c.subject}: ${c.value} ${c.unit}, must be ${c.limit}: ${room}`;
  }

  // tooth stands on the line of the limits, or hangs below it by what is missing.
  function tooth(c, deep) {
    const bar = el("span", { class: "bar" });
    const margin = c.margin === null ? 0 : c.margin;
    bar.style.height = (Math.min(Math.abs(margin), full) / full) * 100 + "%";
    return el("li", { class: "tooth " + (signs[c.sign] || ""), title: spoken(c) },
      el("span", { class: "space", "aria-hidden": "true" }, margin >= 0 && bar),
      deep && el("span", { class: "depth", "aria-hidden": "true" }, margin < 0 && bar),
      el("span", { class: "margin", "aria-hidden": "true" }, c.verdict === "unknown" ? "?" : c.margin === null ? "no" : percent(margin) + (c.sign === "!" ? "!" : "")),
      el("span", { class: "what", "aria-hidden": "true" }, row(c.name).short),
      el("span", { class: "hidden" }, spoken(c)));
  }

  // has tells whether a check has a tooth: those that are only passed or failed
  // have none, unless they are undecided or failed.
  const has = (c) => c.margin !== null || c.verdict !== "pass";

  // Checks that are never in one build share a column.
  const column = (c) => row(c.name).column;

  // columns are the teeth that some of the builds have, in order, so that the
  // racks of all stand tooth under tooth.
  function columns(builds) {
    const names = new Set(builds.flatMap((b) => b.checks.filter(has).map(column)));
    return state.words.checks.map((c) => c.name).filter((name) => names.has(name));
  }

  // draw is the rack of a build's checks, with a gap where it has no such
  // tooth.
  function draw(checks, names) {
    const deep = checks.some((c) => c.margin < 0);
    return el("ul", { class: "rack", "aria-label": "how far from its limits" }, names.map((name) => {
      const c = checks.find((check) => column(check) === name && has(check));
      return c ? tooth(c, deep) : el("li", { class: "tooth gap", "aria-hidden": "true" }, el("span", { class: "space" }));
    }));
  }

  return { draw, columns, spoken, percent };
})();
