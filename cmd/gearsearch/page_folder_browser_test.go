package main

import (
	"encoding/json"
	"fmt"
	"os"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/google/go-cmp/cmp"

	"gearsearch/cmd/gearsearch/internal/browsertest"
)

// TestPageFolder calls the folder in memory as Go does, and holds it to what a system
// answers: errors by their code.
func TestPageFolder(t *testing.T) {
	script, err := os.ReadFile("site/folder.js")
	if err != nil {
		t.Fatal(err)
	}
	tab := browsertest.Open(t)
	tab.Do(chromedp.Navigate("about:blank"))
	for _, tt := range []struct {
		do   string // JavaScript with call(name, …), which is what is answered, c the constants, and text(bytes)
		want string // as JSON
		why  string
	}{
		{`call("stat", "none")`, `"ENOENT"`, "what is not there"},
		{`[call("stat", "a.toml").size, call("stat", "/a.toml").ino === call("lstat", "./x/../a.toml").ino]`, `[5,true]`, "one file by several names"},
		{`[call("stat", "/").isDirectory(), call("stat", "shop").isDirectory(), call("stat", "shop/b.csv").isDirectory()]`, `[true,true,false]`, "folders of a name with a slash"},
		{`[call("readdir", "/").sort(), call("readdir", "shop")]`, `[["a.toml","shop"],["b.csv"]]`, "what lies in a folder"},
		{`call("open", "none", 0, 0)`, `"ENOENT"`, "nothing to read"},
		{`call("open", "a.toml", c.O_WRONLY | c.O_CREAT | c.O_EXCL, 0o666)`, `"EEXIST"`, "a new file in the place of one"},
		{`call("open", "shop", c.O_WRONLY, 0)`, `"EISDIR"`, "a folder to write"},
		{`call("open", "a.toml", c.O_DIRECTORY, 0)`, `"ENOTDIR"`, "a file as a folder"},
		{`call("open", "no/such", c.O_WRONLY | c.O_CREAT, 0o666)`, `"ENOENT"`, "a file in no folder"},
		{`call("open", "a.toml/x", c.O_WRONLY | c.O_CREAT, 0o666)`, `"ENOTDIR"`, "a file in a file"},
		{`call("close", 77)`, `"EBADF"`, "no such descriptor"},
		{
			`(() => { const fd = call("open", "a.toml", 0, 0), b = new Uint8Array(3), out = [];
			for (let i = 0; i < 3; i++) out.push([call("read", fd, b, 0, 3, null), text(b)]);
			return [...out, call("read", fd, b, 1, 2, 0), text(b), call("close", fd) === true]; })()`,
			`[[3,"one"],[2,"=1e"],[0,"=1e"],2,"=on",true]`, "a file in pieces, and from a place",
		},
		{`(() => { const fd = call("open", "new", c.O_RDWR | c.O_CREAT, 0o666);
			call("write", fd, bytes("abc"), 0, 3, null); call("write", fd, bytes("def"), 1, 2, null); call("write", fd, bytes("X"), 0, 1, 1);
			const size = call("fstat", fd).size; call("ftruncate", fd, 4);
			return [size, text(f.written().new)]; })()`, `[5,"aXce"]`, "a file that is written, over itself, and cut"},
		{`(() => { const fd = call("open", "a.toml", c.O_WRONLY | c.O_APPEND, 0); call("write", fd, bytes("!"), 0, 1, null); return text(f.written()["a.toml"]); })()`, `"one=1!"`, "a file that is added to"},
		{`(() => { call("open", "a.toml", c.O_WRONLY | c.O_TRUNC, 0); return f.written()["a.toml"].length; })()`, `0`, "a file that is emptied"},
		{`(() => { call("mkdir", "m", 0o777); call("mkdir", "m/n", 0o777); call("close", call("open", "m/n/x", c.O_CREAT | c.O_WRONLY, 0o666)); call("rename", "m", "k"); return [call("stat", "m"), Object.keys(f.written())]; })()`, `["ENOENT",["k/n/x"]]`, "a folder that gets another name"},
		{`(() => { call("rename", "a.toml", "shop/b.csv"); return [call("stat", "a.toml"), call("stat", "shop/b.csv").size]; })()`, `["ENOENT",5]`, "a file that takes the place of another"},
		{`[call("mkdir", "shop", 0o777), call("rmdir", "shop"), call("unlink", "shop"), call("rmdir", "a.toml")]`, `["EEXIST","ENOTEMPTY","EISDIR","ENOTDIR"]`, "folders are no files"},
		{`(() => { call("unlink", "shop/b.csv"); call("rmdir", "shop"); return call("readdir", "/"); })()`, `["a.toml"]`, "what is removed"},
		{`[call("symlink", "a", "b"), call("readlink", "a.toml"), call("chown", "a.toml", 0, 0)]`, `["ENOSYS","EINVAL","ENOSYS"]`, "what is not to be had"},
		{`(() => { f.fs.writeSync(1, bytes("out ")); f.fs.writeSync(2, bytes("err")); call("write", 1, bytes("put"), 0, 3, null); return [f.said(1), f.said(2), call("read", 0, new Uint8Array(4), 0, 4, null), Object.keys(f.written())]; })()`, `["out put","err",0,[]]`, "the streams"},
		{`[f.process.cwd(), f.path.resolve("/x", "../y/./z")]`, `["/","/y/z"]`, "where it is"},
	} {
		got := browsertest.Value[string](tab, fmt.Sprintf(`(() => {
			%s
			const bytes = (s) => new TextEncoder().encode(s), text = (b) => new TextDecoder().decode(b);
			const f = held({ "a.toml": bytes("one=1"), "shop/b.csv": bytes("id") }), c = f.fs.constants;
			const call = (name, ...args) => { let out; f.fs[name](...args, (error, value) => (out = error ? error.code : value)); return out; };
			return JSON.stringify(%s);
		})()`, script, tt.do))
		var a, b any
		if json.Unmarshal([]byte(tt.want), &a) != nil || json.Unmarshal([]byte(got), &b) != nil || !cmp.Equal(a, b) {
			t.Errorf("%s: %s, want %s", tt.why, got, tt.want)
		}
	}
}
