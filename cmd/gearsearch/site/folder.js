// The folder: files in memory, for a program that Go has compiled for a browser. It
// stands for what Go's wasm_exec.js takes from a system: fs, process and path, of
// which it has as much as Go's own packages ask for. Every call answers at once.
//
// held(files) makes a folder, "/", of files: an object of Uint8Arrays by name, in
// folders of its own where a name has a slash. What the program writes is in said(1) and
// said(2), as text, and in written(), the files that were not there or are others now, as
// the same kind of object.
"use strict";

const held = (files) => {
  const flag = { O_RDONLY: 0, O_WRONLY: 1, O_RDWR: 2, O_CREAT: 0o100, O_EXCL: 0o200, O_TRUNC: 0o1000, O_APPEND: 0o2000, O_DIRECTORY: 0o200000 };
  const kinds = { file: 0o100644, folder: 0o40755, stream: 0o20620 };
  const nodes = new Map(); // by whole name: {kind, data, size, ino, was}
  const open = new Map(); // by descriptor: {node, at, append}
  let numbers = 3; // of descriptors and nodes

  class Refused extends Error {
    constructor(code) {
      super(code);
      this.code = code;
    }
  }
  const refuse = (code) => {
    throw new Refused(code);
  };

  // whole is a name from the root, without dots.
  function whole(name) {
    const parts = [];
    for (const part of name.split("/")) {
      if (part === "..") parts.pop();
      else if (part && part !== ".") parts.push(part);
    }
    return "/" + parts.join("/");
  }

  const above = (name) => name.slice(0, name.lastIndexOf("/")) || "/";
  const node = (kind, data) => ({ kind, data, size: data.length, ino: numbers++, was: null });
  const find = (name) => nodes.get(whole(name)) || refuse("ENOENT");
  const at = (fd) => open.get(fd) || refuse("EBADF");

  // put gives a node a name, in a folder that is there.
  function put(name, made) {
    if (find(above(name)).kind !== "folder") refuse("ENOTDIR");
    nodes.set(name, made);
    return made;
  }

  function mkdir(name) {
    if (nodes.has(whole(name))) refuse("EEXIST");
    put(whole(name), node("folder", new Uint8Array()));
  }

  const inside = (name) => [...nodes.keys()].filter((n) => n !== "/" && above(n) === whole(name));

  // resize gives a file a length, zeros in what is new.
  function resize(file, size) {
    if (size > file.data.length) {
      const data = new Uint8Array(Math.max(size, 2 * file.data.length));
      data.set(file.data.subarray(0, file.size));
      file.data = data;
    } else if (size < file.size) file.data = file.data.slice(0, size);
    file.size = size;
  }

  function opened(name, flags) {
    name = whole(name);
    let found = nodes.get(name);
    if (found && flags & flag.O_CREAT && flags & flag.O_EXCL) refuse("EEXIST");
    if (!found && !(flags & flag.O_CREAT)) refuse("ENOENT");
    if (!found) found = put(name, node("file", new Uint8Array()));
    if (found.kind === "folder" && flags & (flag.O_WRONLY | flag.O_RDWR)) refuse("EISDIR");
    if (found.kind !== "folder" && flags & flag.O_DIRECTORY) refuse("ENOTDIR");
    if (flags & flag.O_TRUNC) resize(found, 0);
    const fd = numbers++;
    open.set(fd, { node: found, at: 0, append: Boolean(flags & flag.O_APPEND) });
    return fd;
  }

  function read(fd, buffer, offset, length, position) {
    const file = at(fd);
    if (file.node.kind === "folder") refuse("EISDIR");
    const from = position === null ? file.at : Number(position);
    const some = file.node.data.subarray(from, Math.min(from + length, file.node.size));
    buffer.set(some, offset);
    if (position === null) file.at += some.length;
    return some.length;
  }

  function write(fd, buffer, offset, length, position) {
    const file = at(fd);
    const to = file.append ? file.node.size : position === null ? file.at : Number(position);
    if (to + length > file.node.size) resize(file.node, to + length);
    file.node.data.set(buffer.subarray(offset, offset + length), to);
    if (position === null) file.at = to + length;
    return length;
  }

  function status(of) {
    const { kind, size, ino } = of;
    return {
      dev: 1, ino, mode: kinds[kind], nlink: 1, uid: 0, gid: 0, rdev: 0, size, blksize: 4096, blocks: Math.ceil(size / 512), atimeMs: 0, mtimeMs: 0, ctimeMs: 0,
      isDirectory: () => kind === "folder",
    };
  }

  function remove(name, folder) {
    const found = find(name);
    if (folder && found.kind !== "folder") refuse("ENOTDIR");
    if (!folder && found.kind === "folder") refuse("EISDIR");
    if (folder && inside(name).length) refuse("ENOTEMPTY");
    nodes.delete(whole(name));
  }

  function rename(from, to) {
    const moved = find(from);
    const there = nodes.get(whole(to));
    if (there && there.kind === "folder") refuse("EISDIR");
    for (const name of [...nodes.keys()]) {
      if (!name.startsWith(whole(from) + "/")) continue;
      nodes.set(whole(to) + name.slice(whole(from).length), nodes.get(name));
      nodes.delete(name);
    }
    nodes.delete(whole(from));
    put(whole(to), moved);
  }

  // What Go asks for, by name. What is not here is not to be had.
  const calls = {
    open: opened, read, write, mkdir, rename,
    close: (fd) => open.delete(fd) || refuse("EBADF"),
    fstat: (fd) => status(at(fd).node),
    stat: (name) => status(find(name)),
    lstat: (name) => status(find(name)),
    readdir: (name) => inside(name).map((n) => n.slice(above(n) === "/" ? 1 : above(n).length + 1)),
    unlink: (name) => remove(name, false),
    rmdir: (name) => remove(name, true),
    truncate: (name, size) => resize(find(name), Number(size)),
    ftruncate: (fd, size) => resize(at(fd).node, Number(size)),
    fsync: () => undefined, chmod: () => undefined, fchmod: () => undefined, utimes: () => undefined,
  };
  const none = () => refuse("ENOSYS");
  for (const name of ["chown", "fchown", "lchown", "link", "symlink"]) calls[name] = none;
  calls.readlink = () => refuse("EINVAL"); // nothing here is a link

  const fs = { constants: flag, writeSync: (fd, data) => write(fd, data, 0, data.length, null) };
  for (const [name, call] of Object.entries(calls)) {
    fs[name] = (...args) => {
      const done = args.pop();
      let out;
      try {
        out = call(...args);
      } catch (error) {
        if (!(error instanceof Refused)) throw error;
        return done(error);
      }
      done(null, out);
    };
  }

  nodes.set("/", node("folder", new Uint8Array()));
  for (const fd of [0, 1, 2]) open.set(fd, { node: node("stream", new Uint8Array()), at: 0, append: false });
  for (const [name, data] of Object.entries(files)) {
    const parts = whole(name).split("/").slice(1, -1);
    parts.forEach((_, i) => nodes.has("/" + parts.slice(0, i + 1).join("/")) || mkdir(parts.slice(0, i + 1).join("/")));
    put(whole(name), Object.assign(node("file", data), { was: data }));
  }

  const all = (of) => of.data.subarray(0, of.size);
  return {
    fs,
    process: { pid: 1, ppid: 0, getuid: () => 0, geteuid: () => 0, getgid: () => 0, getegid: () => 0, getgroups: () => [], umask: () => 0o22, cwd: () => "/", chdir: () => refuse("ENOSYS") },
    path: { resolve: (...names) => whole(names.join("/")) },
    said: (fd) => new TextDecoder().decode(all(at(fd).node)),
    written: () => Object.fromEntries([...nodes].filter(([, n]) => n.kind === "file" && n.data !== n.was).map(([name, n]) => [name.slice(1), all(n)])),
  };
};
