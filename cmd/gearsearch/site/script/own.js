"use strict";

// own holds the parts that the reader fills in: rows of texts in state.own, and
// the file that the engine makes of those in which nothing is wrong, which stands
// among the files. What is typed stays as it is typed, right or wrong.
const own = (() => {
  const file = "own.toml";
  let read = []; // how the engine reads each row: {id, said, wrong, copied}
  let rows = null; // those that were read
  let turn = 0;
  let tell = () => {};
  const left = new WeakSet(); // rows that the reader has been away from

  const has = () => state.own.length > 0 || state.files.some((f) => f.name === file);

  // check has the engine read the rows beside the files, and puts the file that it
  // makes of them among those. It reports whether that is another than before.
  async function check() {
    if (!has()) return false;
    const before = state.files.find((f) => f.name === file);
    if (before && !state.own.length && !rows) { // kept without its rows
      const reply = await wire.ask({ ask: "file", file: before });
      if (reply.answer && reply.answer.drafts) state.own = reply.answer.drafts;
    }
    const mine = ++turn;
    const now = JSON.stringify(state.own);
    const reply = await wire.ask({ ask: "own", drafts: state.own, files: state.files, demo: state.demo });
    if (mine !== turn || !reply.answer) return false;
    rows = now;
    read = reply.answer.rows;
    const made = reply.answer.file;
    const others = state.files.filter((f) => f.name !== file);
    state.files = made ? [...others, made] : others;
    keep.soon();
    tell();
    return (made ? made.data : "") !== (before ? before.data : "");
  }

  // commit reads the rows if they are others than those that were read, and has
  // the answers follow.
  async function commit() {
    if (JSON.stringify(state.own) === rows) return;
    if (await check()) await files.use(true);
  }

  // add adds a row of a kind, at the end.
  function add(kind, cells) {
    state.own.push({ kind, cells: { ...cells } });
    keep.soon();
    return state.own.length - 1;
  }

  function remove(i) {
    const [row] = state.own.splice(i, 1);
    read.splice(i, 1);
    rows = null;
    return row;
  }

  // put puts a row back where it was.
  function put(i, row) {
    state.own.splice(i, 0, row);
    read.splice(i, 0, { id: "", said: {}, wrong: [] });
    rows = null;
  }

  // take adds rows that came from elsewhere; one with the id of another takes its
  // place.
  async function take(drafts) {
    for (const draft of drafts) {
      const at = draft.cells.id ? state.own.findIndex((d, i) => (d.cells.id || of(i).id) === draft.cells.id) : -1;
      if (at >= 0) state.own[at] = draft;
      else state.own.push(draft);
      left.add(draft);
    }
    await check();
    await files.use(true);
  }

  // again has the parts of a file of the reader's own, but for those that are there.
  async function again(held) {
    const reply = await wire.ask({ ask: "file", file: held });
    const there = state.own.map((d, i) => d.cells.id || of(i).id);
    if (reply.answer && reply.answer.drafts) state.own.push(...reply.answer.drafts.filter((d) => !there.includes(d.cells.id)));
  }

  function set(i, key, text) {
    const cells = state.own[i].cells;
    if (text.trim() === "") delete cells[key];
    else cells[key] = text;
    keep.soon();
  }

  // wrong is what is to be said of a row: what is missing, once the reader has been
  // away from it.
  function wrong(i) {
    const row = state.own[i];
    return (read[i] ? read[i].wrong : []).filter((w) => left.has(row) || (w.key && row.cells[w.key]));
  }

  const leave = (i) => state.own[i] && left.add(state.own[i]);
  const of = (i) => read[i] || { id: "", said: {}, wrong: [] };
  const sound = () => read.filter((r) => r.wrong.length === 0).length;

  // onread is told when the rows have been read.
  const onread = (f) => (tell = f);

  return { file, check, commit, add, remove, put, take, again, set, wrong, leave, of, sound, onread, has };
})();
