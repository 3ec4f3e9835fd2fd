package main

import _ "embed" // the notices

// notices are the licences of everything that the program and its page are made
// of: this program, the modules, their fonts, Go. A test writes them.
//
//go:embed NOTICES.txt
var notices []byte
