// Package webengine answers the questions of the static page: it is the whole
// of what runs in the page's worker, but for the few lines that join it to the
// browser, and knows nothing of browsers.
//
// # The protocol
//
// A request is one JSON object, and so is its reply. "ask" names the question;
// the other keys of a request are those that the question takes. Unknown keys
// are refused.
//
//	start    what the page must know before anything else: the keys of a brief,
//	         the checks, the criteria, the embedded briefs, the slots
//	catalog  files: read these files as the catalog from now on, the embedded
//	         demo parts for none; demo: and the demo parts with them
//	shelf    slot or kind or both, find, from: parts of the catalog, and the keys of their
//	         kind
//	file     file: what a file is (catalog, brief, build, the reader's own parts, rows
//	         of a spreadsheet, a workbook, a way to ride), and what a brief or own parts
//	         say; of a build that carries its parts, which is a catalog too, what it and
//	         its brief say
//	own      drafts, files, demo: how parts that somebody fills in are read beside
//	         these files, what is wrong with each, and the file that those make in
//	         which nothing is
//	grid     text or file, kind, slot, order, columns, part: rows of a spreadsheet as
//	         drafts, their columns matched to the keys of a kind; or, unless they are such
//	         a part, those that say their kinds parted by them
//	demo     name: the values of an embedded brief
//	rank     brief, strict, units, top, every: the builds that do it, best first;
//	         of those with the same motors and battery the best alone, unless every
//	         build is asked for
//	count    brief, strict, units: how many do it, what rejected the others,
//	         and where nothing does it the nearest
//	without  brief, strict, units: what each target and limit costs, how many more
//	         builds there are when it alone is dropped
//	spread   brief, strict, units, key: how the builds that pass all but the wish of
//	         that key spread over it
//	field    brief, strict, units, top, every, x, y: where the listed builds stand
//	         among all that do it, in the plane of two figures; a sample where they
//	         are many
//	relax    brief, strict, units, x, y: the least to give way on for something to do it,
//	         with the builds that this opens in the plane of two figures
//	alike    brief, strict, units, top, build: the builds of the design of one that is
//	         ranked, best first, and how many there are
//	curves   brief, units, builds: the curves of some builds, to be laid over one another
//	sheet    brief, strict, units, build: all about one build
//	vary     brief, strict, units, build: what becomes of one build when parts and
//	         rider stray within the brief's tolerances
//	save     what, brief, strict, top, every, build, drafts, files, demo: a file to
//	         keep
//
//	stop     end the searches under way: rank and count answer with what they have
//	         found, and say in incomplete that this is not all
//
// All other questions are those of the command line, which the page puts to the program
// itself.
//
// A brief whose ride.route names no embedded way goes with way: that file, as CSV.
//
// A file is {"name": …, "data": its bytes in base64}. A brief is an object of
// texts, one for each key of a brief that is set: {"target.top_speed_kmh":
// "34"}. A number without a unit is in the key's unit; one with a unit that the
// command line knows (21mph, 8.5deg, 180lb) is converted. A build is the text
// of a build file.
//
// A reply has one of these keys:
//
//	answer     what was asked for; the types in this package are its parts
//	problems   what is wrong with a file or a brief, each with its text as the
//	           program prints it; more counts those that are not listed
//	cancelled  true: a newer question made this one pointless
//	fault      the request itself is wrong, or the engine is
//
// Before the reply of a search that takes long, its progress comes a few times a
// second: part (0 to 1), text, and of a rank the best builds so far.
//
// Texts in an answer are for people: numbers are rounded, with units beside
// them. Names and notes of a catalog stand in them as they are; they hold no
// control characters, but what looks like markup is for the page to keep as
// text.
//
// # Time
//
// A search runs on one goroutine and lets the caller's other work go on every
// few milliseconds, so that a newer question can arrive and cancel it: rank and
// catalog end every search that they make pointless.
package webengine
