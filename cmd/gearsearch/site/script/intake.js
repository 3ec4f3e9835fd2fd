"use strict";

// intake takes rows of a spreadsheet, pasted or in a file: it shows which column is
// taken for which key before anything is taken, and asks what the parts are where
// their headings do not tell.
const intake = (() => {
  const el = dom.el;
  const most = 8; // rows of the preview
  const few = 3; // … of each of several kinds
  const jobs = []; // {name, text or file, shelf, kind, slot, order, pieces}: the first is shown
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

  // show asks how the first rows are read, and shows it: all in one piece, or in one for
  // each kind that they name.
  async function show() {
    const mine = ++turn;
    const job = jobs[0];
    const read = (rows) => wire.ask({ ask: "grid", text: rows.text || "", file: rows.file || null, kind: rows.kind || "", slot: job.slot || "", order: job.order || [], columns: rows.columns || [], part: Boolean(job.pieces) });
    dom.put(place(), el("p", { class: "intake", role: "status" }, "Reading ", job.name ? dom.data(job.name) : "the rows", " …"));
    if (!job.pieces) {
      const { answer, ...reply } = await read(job);
      if (mine !== turn) return;
      if (!answer) return refuse(job, reply);
      Object.assign(job, answer.parts ? { pieces: answer.parts, above: answer.above, more: answer.more } : { pieces: [{ text: job.text, file: job.file, kind: job.kind }] });
    }
    for (const piece of job.pieces) {
      const reply = await read(piece);
      if (mine !== turn) return;
      if (!reply.answer) return refuse(job, reply);
      piece.grid = reply.answer;
      piece.drafts = piece.grid.drafts || [];
    }
    const checked = await wire.ask({ ask: "own", drafts: [...state.own, ...taken(job)], files: state.files, demo: state.demo });
    if (mine !== turn) return;
    let rows = checked.answer ? checked.answer.rows.slice(state.own.length) : [];
    for (const piece of job.pieces) {
      piece.rows = rows.slice(0, piece.drafts.length);
      rows = rows.slice(piece.drafts.length);
    }
    draw(job);
  }

  // taken are the drafts of a job: rows of no kind make none.
  const taken = (job) => job.pieces.flatMap((p) => p.drafts);

  function refuse(job, reply) {
    const p = (reply.problems || [])[0];
    dom.put(place(), el("section", { class: "intake notice bad", role: "alert" },
      el("p", null, job.name && [dom.data(job.name), ": "], dom.data(p ? p.message : reply.fault || "the engine does not answer"), p && p.hint && ["; ", dom.data(p.hint)]),
      el("p", { class: "deeds" }, el("button", { type: "button", id: "intake-leave", onclick: () => leave(job) }, "Leave it"))));
    dom.byId("intake-leave").focus();
  }

  function draw(job) {
    const { pieces } = job;
    const drafts = taken(job);
    const above = (job.above || 0) + pieces.reduce((n, p) => n + p.grid.above, 0);
    const more = (job.more || 0) + pieces.reduce((n, p) => n + p.grid.more, 0);
    const wrong = pieces.flatMap((p) => p.rows).filter((r) => r.wrong.length > 0).length;
    const where = job.name ? [dom.data(job.name), ": "] : "Pasted: ";
    dom.put(place(), el("section", { class: "intake", "aria-labelledby": "intake-title" },
      el("h2", { id: "intake-title", tabindex: "-1" }, where, drafts.length === 1 ? "1 row" : `${drafts.length || "its"} rows`),
      above > 0 && el("p", { class: "soft" }, above === 1 ? "A row above the headings is left out." : `${above} rows above the headings are left out.`),
      more > 0 && el("p", { class: "note bad" }, `${more} more rows are left out: so many are a file of their own. Save the table as ${pieces.length > 1 ? "parts.csv with our kinds in a column kind," : `${pieces[0].kind || pieces[0].grid.kind || "motor"}.csv with`} our keys as headings, and drop that.`),
      pieces.map((piece, n) => shown(job, piece, n)),
      wrong > 0 && el("p", { class: "note bad", id: "intake-wrong" }, wrong === 1 ? "One row has a mistake: it waits in its table, out of use, until you put it right." : `${wrong} rows have mistakes: they wait in their ${pieces.length > 1 ? "tables" : "table"}, out of use, until you put them right.`),
      el("p", { class: "deeds" },
        drafts.length > 0 && el("button", { type: "button", class: "save", id: "intake-take", onclick: () => take(job, drafts) }, drafts.length === 1 ? "Take this part" : `Take these ${drafts.length} parts`),
        el("button", { type: "button", class: "quiet", id: "intake-leave", onclick: () => leave(job) }, "Leave them"))));
    dom.byId("intake-title").focus();
    place().scrollIntoView({ block: "nearest" });
  }

  // shown is a piece of the rows: what they are taken for, and the first of them.
  function shown(job, piece, n) {
    const { grid, drafts } = piece;
    const id = (name) => (n ? `${name}-${n}` : name);
    const out = grid.columns.filter((c) => c.why);
    const fewer = job.pieces.length > 1 ? few : most;
    const select = el("select", { id: id("intake-kind") }, !grid.kind && el("option", { value: "" }, "choose"),
      [...parts.kinds()].sort((a, b) => grid.kinds.includes(b.kind) - grid.kinds.includes(a.kind)).map((k) => el("option", { value: k.kind }, k.title)));
    select.value = grid.kind;
    const again = (change) => {
      Object.assign(piece, change);
      show();
    };
    select.addEventListener("change", () => again({ kind: select.value, columns: null }));
    return el("div", { class: "piece" },
      el("p", { id: id("intake-piece") }, el("label", { for: id("intake-kind") }, called(job, piece)), select,
        !grid.head && grid.kind && " There are no headings: the columns are taken in the order of the table."),
      out.length > 0 && el("p", { id: id("intake-out") }, "Left out: ", out.map((c, i) => [i ? ", " : "", c.title ? dom.data(c.title) : "a column", el("span", { class: "soft" }, ` (${c.why})`)]), "."),
      grid.kind && [
        el("div", { class: "scroll", tabindex: "0", role: "group", "aria-label": "the rows as they are read" }, el("table", { class: "parts preview", "aria-labelledby": id("intake-piece") }, titles(grid, again, id), body(grid, drafts.slice(0, fewer), piece.rows))),
        drafts.length > fewer && el("p", { class: "soft" }, `and ${drafts.length - fewer} more`),
      ]);
  }

  // called says what the rows of a piece are, before the kind that they are taken for.
  function called(job, { said, grid, drafts }) {
    if (job.pieces.length === 1) return grid.kind ? "These are " : "What are these? The headings do not tell. ";
    if (!grid.kind) return said ? ["What is “", dom.data(said), "”? Without a kind it is left out: "] : "What are the rows that name no kind? Without one they are left out: ";
    const rows = drafts.length === 1 ? "1 row" : `${drafts.length} rows`;
    return said === grid.kind ? rows + ": " : [rows, " of “", dom.data(said), "”: "];
  }

  // titles are the headings, each with the key that its column is taken for.
  function titles(grid, again, id) {
    const keys = parts.keysOf(grid.kind);
    return el("thead", null, el("tr", null, grid.columns.map((c, i) => {
      const called = c.title || `column ${i + 1}`;
      const select = el("select", { id: id(`column-${i}`), "aria-label": `${called} is taken for` }, el("option", { value: "" }, "left out"), keys.map((k) => el("option", { value: k.key }, k.label + (k.unit ? ` (${k.unit})` : ""))));
      select.value = c.key;
      select.addEventListener("change", () => again({ kind: grid.kind, columns: grid.columns.map((x, j) => (i === j ? select.value : x.key)) }));
      return el("th", { scope: "col" }, el("span", { class: "key" }, dom.data(called)), select, c.unit && el("span", { class: "note soft" }, "in ", dom.data(c.unit)));
    })));
  }

  // body is the first rows, what is wrong with them below its cell.
  function body(grid, drafts, rows) {
    return el("tbody", null, drafts.map((d, i) => {
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
