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

  function made(node, heading) {
    if (node.nodeType === Node.TEXT_NODE) return node.data;
    if (node.nodeType !== Node.ELEMENT_NODE) return null;
    const name = node.localName;
    const kind = words.has(name) ? "words" : shapes.has(name) ? "shapes" : "";
    if (!kind) return null;
    const attributes = Object.fromEntries([...node.attributes].filter((a) => traits[kind].has(a.name)).map((a) => [a.name, a.value]));
    const inside = [...node.childNodes].map((n) => made(n, heading));
    return kind === "words" ? dom.el(name === "h3" ? heading : name, attributes, inside) : dom.svg(name, attributes, inside);
  }

  const short = 24; // letters of a cell that is not broken
  const long = 48; // letters of a cell that takes its room

  // wide puts a table into a place that it may be wider than.
  function wide(table, name) {
    for (const cell of table.querySelectorAll("tbody th, tbody td")) {
      cell.classList.toggle("keep", cell.textContent.length <= short);
      cell.classList.toggle("long", cell.textContent.length >= long);
    }
    const place = dom.el("div", { class: "scroll", tabindex: "0", role: "group", "aria-label": name });
    table.replaceWith(place);
    place.append(table);
  }

  // read makes elements of a fragment, tables in places of their own; name says what it
  // is about, heading is the element of its headings.
  function read(text, name, heading = "h3") {
    const page = new DOMParser().parseFromString(text, "text/html"); // where nothing runs and nothing is fetched
    const out = dom.el("div", { class: "fragment" }, [...page.body.childNodes].map((n) => made(n, heading)));
    for (const table of out.querySelectorAll("table")) {
      let above = table.previousElementSibling;
      while (above && above.localName !== heading) above = above.previousElementSibling;
      wide(table, above ? above.textContent : name);
    }
    return out;
  }

  return { read };
})();
