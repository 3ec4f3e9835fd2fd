"use strict";

// markup makes elements of what the program writes as HTML. Only what it may be made of
// is taken over, element by element: everything else is left out, and texts stay texts.
const markup = (() => {
  const words = new Set(["p", "h3", "ul", "li", "dl", "dt", "dd", "pre", "code", "table", "thead", "tbody", "tr", "th", "td", "span", "figure", "figcaption"]);
  const shapes = new Set(["svg", "g", "path", "text"]);
  const traits = {
    words: new Set(["class", "scope"]),
    shapes: new Set(["viewBox", "role", "aria-label", "font-family", "font-size", "font-weight", "textLength", "x", "y", "d", "transform", "fill", "fill-opacity", "stroke", "stroke-opacity", "stroke-width", "stroke-dasharray", "stroke-dashoffset"]),
  };

  function made(node) {
    if (node.nodeType === Node.TEXT_NODE) return node.data;
    if (node.nodeType !== Node.ELEMENT_NODE) return null;
    const name = node.localName;
    const kind = words.has(name) ? "words" : shapes.has(name) ? "shapes" : "";
    if (!kind) return null;
    const attributes = Object.fromEntries([...node.attributes].filter((a) => traits[kind].has(a.name)).map((a) => [a.name, a.value]));
    return (kind === "words" ? dom.el : dom.svg)(name, attributes, [...node.childNodes].map(made));
  }

  // wide puts a table into a place that it may be wider than.
  function wide(table, name) {
    const place = dom.el("div", { class: "scroll", tabindex: "0", role: "group", "aria-label": name });
    table.replaceWith(place);
    place.append(table);
  }

  // read makes elements of a fragment, tables in places of their own; name says what it
  // is about.
  function read(text, name) {
    const page = new DOMParser().parseFromString(text, "text/html"); // where nothing runs and nothing is fetched
    const out = dom.el("div", { class: "fragment" }, [...page.body.childNodes].map(made));
    for (const table of out.querySelectorAll("table")) {
      let heading = table.previousElementSibling;
      while (heading && heading.localName !== "h3") heading = heading.previousElementSibling;
      wide(table, heading ? heading.textContent : name);
    }
    return out;
  }

  return { read };
})();
