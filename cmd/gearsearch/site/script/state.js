"use strict";

// state is what the reader has said so far: the brief as texts by key, the
// files, and how answers are wanted. Whoever changes it calls changed.
const state = {
  brief: {}, // section.key: text, of the keys that are set
  strict: false,
  every: false, // list every build, those that are like a better one too
  units: "metric",
  top: 20,
  files: [], // {name, data: base64}: what the reader dropped
  own: [], // {kind, cells: {key: text}}: parts that the reader fills in
  demo: true, // the demo parts are wanted too
  inUse: { files: [], demo: true }, // those that the engine has taken
  build: "", // a build file that the reader dropped
  way: null, // {name, data: base64}: the table of a way to ride that the reader gave
  contents: null, // the engine's answer to the catalog in use
  words: null, // the engine's introduction

  listeners: [],
  onchange(listener) {
    this.listeners.push(listener);
  },
  changed() {
    fresh.asked();
    for (const listener of this.listeners) listener();
  },

  // set sets a key of the brief; an empty text takes it away.
  set(key, text) {
    if (text.trim() === "") delete this.brief[key];
    else this.brief[key] = text;
    this.changed();
  },

  // question is a question about the brief as it stands; what follows of a
  // change later is not in it.
  question(ask, more) {
    const file = way.of(this.brief);
    return { ask, ...(file && { way: file }), brief: { ...this.brief }, strict: this.strict, every: this.every, units: this.units, ...more };
  },

  // key is what the engine says of a key of a brief.
  key(name) {
    return this.words.keys.find((k) => k.key === name);
  },

  // list is a key whose text is a list.
  list(key) {
    return (this.brief[key] || "").split(",").map((item) => item.trim()).filter(Boolean);
  },
};
