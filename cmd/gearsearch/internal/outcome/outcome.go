// Package outcome says how a run ends: the exit codes, and the errors that
// stand for them.
package outcome

import (
	"errors"
	"fmt"

	"gearsearch/catalog/field"
)

// Exit codes.
const (
	ExitAnswered    = 0
	ExitInfeasible  = 1   // nothing feasible, or a build that fails a check
	ExitUsage       = 2   // wrong usage
	ExitContent     = 3   // wrong catalog, brief or build
	ExitIO          = 4   // input and output, and what should not happen
	ExitInterrupted = 130 // as shells have it: 128 and the number of the signal
)

// Answers that are not errors but have an exit code of their own. What there
// is to say about them is said where they arise.
var (
	ErrInfeasible  = errors.New("nothing feasible")
	ErrInterrupted = errors.New("interrupted")
)

// UsageError is wrong usage of flags, arguments or commands.
type UsageError struct{ Problems field.Problems }

func (e *UsageError) Error() string { return e.Problems.Error() }

// Usage is wrong usage, with a hint at the right one, "" for none.
func Usage(hint, format string, args ...any) error {
	return &UsageError{field.Problems{{Message: fmt.Sprintf(format, args...), Hint: hint}}}
}
