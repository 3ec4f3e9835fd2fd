"use strict";

// book reads workbooks (.xlsx: ECMA-376, a ZIP archive of XML files) with what the
// browser has for it: its inflater and its XML parser. It takes the values of the cells
// of each sheet that is shown, and no more than so many bytes unpacked.
const book = (() => {
  const most = 20 * 1024 * 1024; // bytes, unpacked
  const rows = 10_000;
  const columns = 200;

  const view = (bytes) => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

  // entries are the files of an archive by name, as its directory tells them.
  function entries(bytes) {
    const data = view(bytes);
    const end = (() => {
      for (let at = bytes.length - 22; at >= Math.max(0, bytes.length - 65557); at--) if (data.getUint32(at, true) === 0x06054b50) return at;
      throw new Error("the file is cut short: save it again");
    })();
    const out = new Map();
    let at = data.getUint32(end + 16, true);
    for (let n = data.getUint16(end + 10, true); n > 0; n--) {
      if (at + 46 > end || data.getUint32(at, true) !== 0x02014b50) throw new Error("its directory is broken: save it again");
      const length = data.getUint16(at + 28, true);
      const name = new TextDecoder().decode(bytes.subarray(at + 46, at + 46 + length));
      out.set(name, { locked: data.getUint16(at + 8, true) & 1, method: data.getUint16(at + 10, true), packed: data.getUint32(at + 20, true), head: data.getUint32(at + 42, true) });
      at += 46 + length + data.getUint16(at + 30, true) + data.getUint16(at + 32, true);
    }
    return out;
  }

  // archive makes what reads files of an archive as XML; room is for all of them.
  function archive(bytes) {
    const files = entries(bytes);
    let room = most;

    async function unpack(file) {
      const data = view(bytes);
      if (file.locked) throw new Error("it is locked with a password: save it without");
      if (file.head + 30 > bytes.length || data.getUint32(file.head, true) !== 0x04034b50) throw new Error("its directory is broken: save it again");
      const from = file.head + 30 + data.getUint16(file.head + 26, true) + data.getUint16(file.head + 28, true);
      const packed = new Blob([bytes.subarray(from, from + file.packed)]).stream();
      if (file.method !== 0 && file.method !== 8) throw new Error("it is packed in a way that is not known here: save it again");
      const reader = (file.method === 8 ? packed.pipeThrough(new DecompressionStream("deflate-raw")) : packed).getReader();
      const parts = [];
      for (;;) {
        const { done, value } = await reader.read();
        if (done) break;
        room -= value.length;
        if (room < 0) {
          reader.cancel().catch(() => {});
          throw new Error(`unpacked it is larger than ${most / 1048576} MB: take the parts out of it as CSV`);
        }
        parts.push(value);
      }
      return new Blob(parts).text();
    }

    return async (name) => {
      const file = files.get(name);
      if (!file) return null;
      const text = await unpack(file);
      if (/<!DOCTYPE/i.test(text.slice(0, 4096))) throw new Error(name + " in it is no part of a workbook");
      const xml = new DOMParser().parseFromString(text, "application/xml");
      if (all(xml, "parsererror").length) throw new Error(name + " in it cannot be read: save it again");
      return xml;
    };
  }

  const all = (node, name) => [...node.getElementsByTagNameNS("*", name)];
  const relation = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

  // texts are the texts that cells share, without how they are spoken.
  const texts = (xml) => (xml ? all(xml, "si").map(textOf) : []);
  const textOf = (node) => all(node, "t").filter((t) => t.parentNode.localName !== "rPh").map((t) => t.textContent).join("");

  // percents tells of each style whether it shows percents.
  function percents(xml) {
    if (!xml) return [];
    const own = new Map(all(xml, "numFmt").map((f) => [f.getAttribute("numFmtId"), f.getAttribute("formatCode") || ""]));
    const list = all(xml, "cellXfs")[0];
    return list ? [...list.children].map((x) => {
      const id = x.getAttribute("numFmtId");
      return id === "9" || id === "10" || (own.get(id) || "").includes("%");
    }) : [];
  }

  // column is the number of a column by the letters of a cell's place, from 0.
  function column(place) {
    let n = 0;
    for (const c of /^[A-Z]*/.exec(place)[0]) n = 26 * n + c.charCodeAt(0) - 64;
    return n - 1;
  }

  const number = (text) => (Number.isFinite(Number(text)) ? String(Number(Number(text).toPrecision(15))) : text);

  function valueOf(c, shared, percent) {
    const v = (all(c, "v")[0] || { textContent: "" }).textContent;
    switch (c.getAttribute("t")) {
      case "s": return shared[Number(v)] || "";
      case "inlineStr": return textOf(c);
      case "b": return v === "1" ? "yes" : "no";
      case "e": return "";
      case "str": return v;
    }
    if (v === "") return "";
    return percent[Number(c.getAttribute("s"))] ? number(String(100 * Number(v))) + "%" : number(v);
  }

  const quoted = (text) => (/[\t\r\n"]/.test(text) ? '"' + text.replaceAll('"', '""') + '"' : text);

  // sheet is the rows of a sheet as lines with tabs.
  function sheet(xml, shared, percent) {
    const lines = [];
    for (const row of all(xml, "row").slice(0, rows + 1)) {
      const cells = [];
      let next = 0;
      for (const c of all(row, "c")) {
        const place = c.getAttribute("r");
        const at = place ? column(place) : next;
        next = at + 1;
        if (at >= 0 && at < columns) cells[at] = quoted(valueOf(c, shared, percent).trim());
      }
      if (cells.some(Boolean)) lines.push(Array.from(cells, (cell) => cell || "").join("\t"));
    }
    return lines.join("\n");
  }

  // read gives the sheets of a workbook that are shown and have something in them:
  // {name, text}. An error says what is wrong with it.
  async function read(bytes) {
    const open = archive(bytes);
    const workbook = await open("xl/workbook.xml");
    if (!workbook) throw new Error("there is no workbook in it; what is read is .xlsx, .csv and .toml");
    const relations = await open("xl/_rels/workbook.xml.rels");
    const targets = new Map((relations ? all(relations, "Relationship") : []).map((r) => [r.getAttribute("Id"), r.getAttribute("Target")]));
    const shared = texts(await open("xl/sharedStrings.xml"));
    const percent = percents(await open("xl/styles.xml"));
    const out = [];
    for (const s of all(workbook, "sheet")) {
      const target = targets.get(s.getAttributeNS(relation, "id"));
      if (!target || (s.getAttribute("state") || "visible") !== "visible") continue;
      const xml = await open(target.startsWith("/") ? target.slice(1) : "xl/" + target);
      const text = xml ? sheet(xml, shared, percent) : "";
      if (text) out.push({ name: s.getAttribute("name") || "", text });
    }
    if (!out.length) throw new Error("no sheet of it has anything in it");
    return out;
  }

  return { read };
})();
