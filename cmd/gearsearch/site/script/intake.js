"use strict";

// intake takes rows of a spreadsheet, pasted or in a file: it shows which column is
// taken for which key before anything is taken, and asks what the parts are where
// their headings do not tell.
const intake = (() => {
  const el = dom.el;
  const most = 8; // rows of the preview
  const jobs = []; // {name, text or file, shelf, kind, slot, order, columns}: the first is shown
  let turn = 0;

  const place = () => dom.byId("intake");

  // offer shows rows: a text, or a file as it was read.
  async function offer(job) {
    jobs.push(job);
    if (jobs.length === 1) await show();
  }

  // open asks for rows to be pasted for a table.
  function open(job) {
    const text = el("textarea", { id: "pasted", rows: "4", "aria-describedby": "pasted-about" });
    const read = () => text.value.trim() && next({ ...job, text: text.value });
    text.addEventListener("paste", () => setTimeout(read));
    const next = (full) => {
      jobs.length = 0;
      offer(full);
    };
    jobs.length = 0;
    turn++;
    dom.put(place(), el("section", { class: "intake", "aria-labelledby": "intake-title" },
      el("h2", { id: "intake-title" }, el("label", { for: "pasted" }, `Paste rows: ${parts.titleOf(job.shelf)}`)),
      el("p", { id: "pasted-about" }, "Copy rows in a spreadsheet, the row with the headings first, and paste them here. Without headings the columns are taken in the order of the table."),
      text,
      el("p", { class: "deeds" }, el("button", { type: "button", id: "pasted-read", onclick: read }, "Read them"), el("button", { type: "button", class: "quiet", id: "intake-leave", onclick: () => leave(job) }, "Leave it"))));
    text.focus();
    place().scrollIntoView({ block: "nearest" });
  }

  // leave ends with the rows that are shown and goes on to the next.
  async function leave(job) {
    turn++;
    jobs.shift();
    if (jobs.length) return show();
    dom.put(place());
    const back = dom.byId("add-" + job.shelf) || dom.byId("choose");
    if (back) back.focus();
  }

  // show asks how the first rows are read, and shows it.
  async function show() {
    const mine = ++turn;
    const job = jobs[0];
    const { text, file, kind, slot, order, columns } = job;
    dom.put(place(), el("p", { class: "intake", role: "status" }, "Reading ", job.name ? dom.data(job.name) : "the rows", " …"));
    const reply = await wire.ask({ ask: "grid", text: text || "", file: file || null, kind: kind || "", slot: slot || "", order: order || [], columns: columns || [] });
    if (mine !== turn) return;
    if (!reply.answer) return refuse(job, reply);
    const grid = reply.answer;
    let rows = [];
    if (grid.kind) {
      const checked = await wire.ask({ ask: "own", drafts: [...state.own, ...(grid.drafts || [])], files: state.files, demo: state.demo });
      if (mine !== turn) return;
      rows = checked.answer ? checked.answer.rows.slice(state.own.length) : [];
    }
    draw(job, grid, rows);
  }

  function refuse(job, reply) {
    const p = (reply.problems || [])[0];
    dom.put(place(), el("section", { class: "intake notice bad", role: "alert" },
      el("p", null, job.name && [dom.data(job.name), ": "], dom.data(p ? p.message : reply.fault || "the engine does not answer"), p && p.hint && ["; ", dom.data(p.hint)]),
      el("p", { class: "deeds" }, el("button", { type: "button", id: "intake-leave", onclick: () => leave(job) }, "Leave it"))));
    dom.byId("intake-leave").focus();
  }

  function draw(job, grid, rows) {
    const drafts = grid.drafts || [];
    const wrong = rows.filter((r) => r.wrong.length > 0).length;
    const out = grid.columns.filter((c) => c.why);
    const kinds = parts.kinds();
    const select = el("select", { id: "intake-kind" }, !grid.kind && el("option", { value: "" }, "choose"),
      [...kinds].sort((a, b) => grid.kinds.includes(b.kind) - grid.kinds.includes(a.kind)).map((k) => el("option", { value: k.kind }, k.title)));
    select.value = grid.kind;
    select.addEventListener("change", () => again({ kind: select.value, slot: "", columns: null }));
    const again = (change) => {
      Object.assign(job, change);
      show();
    };
    const where = job.name ? [dom.data(job.name), ": "] : "Pasted: ";
    dom.put(place(), el("section", { class: "intake", "aria-labelledby": "intake-title" },
      el("h2", { id: "intake-title", tabindex: "-1" }, where, drafts.length === 1 ? "1 row" : `${drafts.length || "its"} rows`),
      el("p", null, el("label", { for: "intake-kind" }, grid.kind ? "These are " : "What are these? The headings do not tell. "), select,
        !grid.head && grid.kind && " There are no headings: the columns are taken in the order of the table."),
      grid.above > 0 && el("p", { class: "soft" }, grid.above === 1 ? "A row above the headings is left out." : `${grid.above} rows above the headings are left out.`),
      grid.more > 0 && el("p", { class: "note bad" }, `${grid.more} more rows are left out: so many are a file of their own. Save the table as ${grid.kind || "motor"}.csv with our keys as headings, and drop that.`),
      out.length > 0 && el("p", { id: "intake-out" }, "Left out: ", out.map((c, i) => [i ? ", " : "", c.title ? dom.data(c.title) : "a column", el("span", { class: "soft" }, ` (${c.why})`)]), "."),
      grid.kind && [
        el("div", { class: "scroll", tabindex: "0", role: "group", "aria-label": "the rows as they are read" }, el("table", { class: "parts preview", "aria-labelledby": "intake-title" }, titles(job, grid, again), body(grid, drafts, rows))),
        drafts.length > most && el("p", { class: "soft" }, `and ${drafts.length - most} more`),
        wrong > 0 && el("p", { class: "note bad", id: "intake-wrong" }, wrong === 1 ? "One row has a mistake: it waits in its table, out of use, until you put it right." : `${wrong} rows have mistakes: they wait in their table, out of use, until you put them right.`),
      ],
      el("p", { class: "deeds" },
        grid.kind && drafts.length > 0 && el("button", { type: "button", class: "save", id: "intake-take", onclick: () => take(job, drafts) }, drafts.length === 1 ? "Take this part" : `Take these ${drafts.length} parts`),
        el("button", { type: "button", class: "quiet", id: "intake-leave", onclick: () => leave(job) }, "Leave them"))));
    dom.byId("intake-title").focus();
    place().scrollIntoView({ block: "nearest" });
  }

  // titles are the headings, each with the key that its column is taken for.
  function titles(job, grid, again) {
    const keys = parts.keysOf(grid.kind);
    return el("thead", null, el("tr", null, grid.columns.map((c, i) => {
      const called = c.title || `column ${i + 1}`;
      const select = el("select", { id: `column-${i}`, "aria-label": `${called} is taken for` }, el("option", { value: "" }, "left out"), keys.map((k) => el("option", { value: k.key }, k.label + (k.unit ? ` (${k.unit})` : ""))));
      select.value = c.key;
      select.addEventListener("change", () => again({ kind: grid.kind, columns: grid.columns.map((x, j) => (i === j ? select.value : x.key)) }));
      return el("th", { scope: "col" }, el("span", { class: "key" }, dom.data(called)), select, c.unit && el("span", { class: "note soft" }, "in ", dom.data(c.unit)));
    })));
  }

  // body is the first rows, what is wrong with them below its cell.
  function body(grid, drafts, rows) {
    return el("tbody", null, drafts.slice(0, most).map((d, i) => {
      const { wrong, said } = rows[i] || { wrong: [], said: {} };
      const rest = wrong.filter((w) => !grid.columns.some((c) => c.key === w.key));
      return el("tr", { class: wrong.length ? "part unread" : "part" }, grid.columns.map((c, j) => el("td", null, dom.data((c.key && d.cells[c.key]) || ""),
        [...wrong.filter((w) => c.key && w.key === c.key), ...(j === 0 ? rest : [])].map((w) => el("span", { class: "note bad" }, dom.data(w.message), w.hint && [" – ", dom.data(w.hint)])),
        c.key && said[c.key] && el("span", { class: "note soft" }, "read as ", said[c.key]))));
    }));
  }

  // take takes the rows as parts of the reader's own.
  async function take(job, drafts) {
    turn++;
    jobs.shift();
    dom.put(place());
    await own.take(drafts);
    if (jobs.length) return show();
    const shelf = dom.byId("add-" + parts.home(drafts[0]).name);
    if (shelf) {
      shelf.focus();
      shelf.closest("section").scrollIntoView({ block: "start" });
    }
  }

  return { offer, open };
})();
