"use strict";

// dom makes elements. Text is only ever set as text, so that nothing a catalog
// says becomes markup, and styles only through classes and the style object, as
// the page's policy wants it.
const dom = (() => {
  const svgSpace = "http://www.w3.org/2000/svg";

  function fill(node, attributes, children) {
    for (const [name, value] of Object.entries(attributes || {})) {
      if (value === null || value === undefined || value === false) continue;
      if (name.startsWith("on")) node.addEventListener(name.slice(2), value);
      else node.setAttribute(name, value === true ? "" : value);
    }
    add(node, children);
    return node;
  }

  function add(node, children) {
    for (const child of children.flat(Infinity)) {
      if (child === null || child === undefined || child === false) continue;
      node.append(child);
    }
  }

  // el makes an element: attributes by name, listeners as onclick, children as
  // nodes, texts and lists of them; null and false are left out.
  const el = (name, attributes, ...children) => fill(document.createElement(name), attributes, children);

  // svg makes an element of a drawing, likewise.
  const svg = (name, attributes, ...children) => fill(document.createElementNS(svgSpace, name), attributes, children);

  // put replaces what stands in a node.
  function put(node, ...children) {
    node.replaceChildren();
    add(node, children);
  }

  // renew is put where the focus may be: it goes to what stands in the place of
  // the element that has it, by its id, and to the first of others, by id, where
  // nothing does. What is selected in a field stays so.
  function renew(node, others, ...children) {
    const held = document.activeElement && node.contains(document.activeElement) ? document.activeElement : null;
    const [from, to] = held && held.matches("input:not([type=checkbox])") ? [held.selectionStart, held.selectionEnd] : [null, null];
    put(node, ...children);
    if (!held) return;
    const again = [held.id, ...others].map((id) => id && byId(id)).find(Boolean);
    if (!again) return;
    again.focus({ preventScroll: true });
    if (from !== null && again.id === held.id) again.setSelectionRange(from, to);
  }

  // data is a text that comes from a catalog or a file: writing that runs the
  // other way does not disturb what stands beside it.
  const data = (text, attributes) => el("bdi", attributes, text);

  // link is an address from a catalog: a link if it is one of the web, else
  // its text.
  function link(text) {
    const web = /^https?:\/\/[^\s]+$/i.test(text);
    return web ? el("a", { href: text, rel: "noopener noreferrer nofollow", target: "_blank" }, data(text)) : data(text);
  }

  // grow makes what the engine sends as a tree: a text, or [name, attributes,
  // what is inside …], under the name "" what stands in turn. Nothing of it runs,
  // and nothing has a style of its own.
  function grow(tree, space) {
    if (typeof tree === "string") return document.createTextNode(tree);
    const [name, attributes, ...inside] = tree;
    const within = name === "svg" ? svgSpace : space;
    const node = name === "" ? document.createDocumentFragment() : within ? document.createElementNS(within, name) : document.createElement(name);
    for (const [key, value] of Object.entries(name ? attributes : {})) {
      if (key === "style" || key.startsWith("on")) throw new Error(`an element with ${key}`);
      node.setAttribute(key, value);
    }
    node.append(...inside.map((child) => grow(child, within)));
    return node;
  }

  // save hands a text to the reader as a file.
  function save(name, text) {
    const url = URL.createObjectURL(new Blob([text], { type: "application/octet-stream" }));
    el("a", { href: url, download: name }).click();
    setTimeout(() => URL.revokeObjectURL(url), 60_000);
  }

  const byId = (id) => document.getElementById(id);

  return { el, svg, put, renew, data, link, grow, save, byId };
})();
