package main

import _ "embed" // the notices

// noticesName is the file with the notices in the folder of the page and in an
// archive.
const noticesName = "NOTICES.txt"

// notices are the licences of everything that the program and its page are made
// of: this program, the modules, their fonts, Go. A test writes them.
//
//go:embed NOTICES.txt
var notices []byte
