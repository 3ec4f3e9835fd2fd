// Package peers puts the question of package search to general engines, side
// by side in one run: the same synthetic markets and brief to the search, to
// plain nested loops, to SQLite and to DuckDB, through their Go drivers. Counts
// and the best twenty must be equal; the benchmark prints the times.
//
// It is a module of its own, so that the program does not carry the drivers:
//
//	cd search/peers && go test -bench . -benchtime 1x
//
// How the peers are tuned: parts are prepared outside the clock (pack voltages
// and limits, belts chosen, prices for two motors) and loaded into tables; all
// that reads one half of a build (volts, electrical rpm, hanger; hub, belt,
// mesh, clearance) is filtered into two tables of survivors first, and the
// join is on shaft and key. Everything that does not depend on the pair is
// computed in those tables. SQLite runs in memory with a page cache that holds
// everything; DuckDB on all processors. The score leaves out the speed
// criterion, whose top speed has no closed form where power binds; the check
// of the top speed is asked as "thrust at the target is at least the load".
package peers
