// Command mutate changes single lines of the program, one at a time, and tells
// which changes no test notices. The files themselves are never touched: the go
// command is handed each change as an overlay.
//
//	go run ./.ci/mutate                      # 40 changes of drive, constraints, search
//	go run ./.ci/mutate -n 200 -seed 7       # 200, drawn with another seed
//	go run ./.ci/mutate -n 0 -match 'drive/pack.go:(30|41)$'   # all of two lines
//
// What is drawn: a comparison the other way round, a condition negated, a sign
// or an operator swapped, a constant one too great, a statement dropped. A
// change that does not compile is none. The short tests of the changed package
// run first, then those of the packages that import it, until one fails: the
// change is killed. A test that hangs or wants too much memory fails too.
//
// Exit code 1 if fewer than -least percent are killed.
package main

import (
	"context"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/signal"
	"regexp"
	"strings"
	"time"
)

func main() {
	n := flag.Int("n", 40, "how `many` changes to draw; 0: all")
	seed := flag.Uint64("seed", 1, "the `seed` of what is drawn")
	packages := flag.String("packages", "./drive,./constraints,./constraints/ease,./search,./search/internal/walk", "the `folders` of the packages to change")
	match := flag.String("match", "", "draw only where file:line matches the `expression`")
	own := flag.Bool("own", false, "ask only tests under the top folder of the changed package")
	least := flag.Float64("least", 90, "the `percent` that must be killed")
	flag.Parse()
	expression, err := regexp.Compile(*match)
	if err != nil || flag.NArg() > 0 {
		flag.Usage()
		os.Exit(2)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	killed, survived, err := mutate(ctx, strings.Split(*packages, ","), expression, *n, *seed, *own)
	all := killed + len(survived)
	fmt.Printf("\n%d drawn, %d killed, %d survived\n", all, killed, len(survived))
	for _, m := range survived {
		fmt.Printf("\n%s\n", m)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "mutate:", err)
	}
	if err != nil || 100*float64(killed) < *least*float64(all) {
		os.Exit(1)
	}
}

// mutate draws n changes and asks the tests about each. An error, or an
// interrupt, ends it with what it has.
func mutate(ctx context.Context, folders []string, match *regexp.Regexp, n int, seed uint64, own bool) (killed int, survived []mutant, err error) {
	h, err := newHouse(ctx)
	if err != nil {
		return 0, nil, err
	}
	defer h.close()
	all, err := h.mutants(ctx, folders, match)
	if err != nil {
		return 0, nil, err
	}
	if n == 0 {
		n = len(all)
	}
	source := rand.New(rand.NewPCG(seed, 0))
	source.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	fmt.Printf("%d changes to draw from\n", len(all))
	for _, m := range all {
		if killed+len(survived) == n {
			break
		}
		began := time.Now()
		by, err := h.ask(ctx, m, own)
		switch {
		case err != nil:
			return killed, survived, err
		case by == notBuilt:
			continue
		case by == "":
			survived = append(survived, m)
			by = "SURVIVED"
		default:
			killed++
			by = "killed by " + by
		}
		fmt.Printf("%3d  %5.0f s  %-45s %s: %s\n", killed+len(survived), time.Since(began).Seconds(), by, m.place(), m.what)
	}
	return killed, survived, nil
}
