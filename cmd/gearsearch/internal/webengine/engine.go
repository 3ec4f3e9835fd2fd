package webengine

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"runtime/debug"
	"sync"
	"time"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/quantity"
)

// Protocol is the version of the protocol. A page and an engine of different
// versions do not understand each other.
const Protocol = 1

// Engine answers requests. It holds the catalog, the embedded demo parts until
// another is read. It is safe for use by several goroutines.
type Engine struct {
	pause func()           // lets other work go on; may be nil
	demo  *catalog.Catalog // the embedded parts alone

	mu      sync.Mutex
	catalog *catalog.Catalog
	current context.Context // of the searches that are not pointless
	cancel  context.CancelCauseFunc
}

// New makes an engine with the demo parts. A search calls pause every few
// milliseconds, from one goroutine, where the caller has other work to let go
// on; pause may be nil.
func New(pause func()) (*Engine, error) {
	c, err := catalog.Demo()
	if err != nil {
		return nil, err
	}
	e := &Engine{pause: pause, demo: c, catalog: c}
	e.current, e.cancel = context.WithCancelCause(context.Background())
	return e, nil
}

// file is a file that the page holds.
type file struct {
	Name string `json:"name"`
	Data []byte `json:"data"`
}

func (f *file) source() field.Source { return field.Source{Name: f.Name, Data: f.Data} }

// request is a question with all that any of them takes.
type request struct {
	Ask    string            `json:"ask"`
	Files  []file            `json:"files"`
	Demo   bool              `json:"demo"`
	File   *file             `json:"file"`
	Name   string            `json:"name"`
	Slot   string            `json:"slot"`
	Kind   string            `json:"kind"`
	Find   string            `json:"find"`
	From   int               `json:"from"`
	Brief  map[string]string `json:"brief"`
	Build  string            `json:"build"`
	Builds []string          `json:"builds"`
	Way    *file             `json:"way"` // a CSV file that the brief names
	Title  string            `json:"title"`
	Key    string            `json:"key"`
	X      string            `json:"x"`
	Y      string            `json:"y"`
	Strict bool              `json:"strict"`
	Every  bool              `json:"every"`
	Units  string            `json:"units"`
	Top    int               `json:"top"`
	What   string            `json:"what"`

	Drafts  []catalog.Draft `json:"drafts"`
	Text    string          `json:"text"`
	Part    bool            `json:"part"`
	Order   []string        `json:"order"`
	Columns []string        `json:"columns"`

	system quantity.System
	tell   func(*progress) // of how far it is; nil: nobody listens
}

// reply is the answer to a request, or why there is none.
type reply struct {
	Answer    any       `json:"answer,omitempty"`
	Problems  []problem `json:"problems,omitempty"`
	More      int       `json:"more,omitempty"` // problems that are not listed
	Cancelled bool      `json:"cancelled,omitempty"`
	Fault     string    `json:"fault,omitempty"`
}

// errCancelled ends a question that a newer one made pointless, errStopped one that
// the reader does not want to wait for any more.
var (
	errCancelled = errors.New("cancelled")
	errStopped   = errors.New("stopped")
)

// Answer answers one request. Of a search that takes long, tell is given now and
// then how far it is, as JSON, by any goroutine, one at a time; nil: it is not.
func (e *Engine) Answer(text []byte, tell func([]byte)) []byte {
	out, err := json.Marshal(e.reply(text, tell))
	if err != nil { // an answer has nothing in it that cannot be written
		out, _ = json.Marshal(reply{Fault: err.Error()})
	}
	return out
}

func (e *Engine) reply(text []byte, tell func([]byte)) (r reply) {
	defer func() {
		if x := recover(); x != nil {
			r = reply{Fault: fmt.Sprintf("the engine failed: %v\n%s", x, debug.Stack())}
		}
	}()
	answer, err := e.answer(text, tell)
	var wrong *wrong
	var problems field.Problems
	switch {
	case err == nil:
		return reply{Answer: answer}
	case errors.Is(err, errCancelled):
		return reply{Cancelled: true}
	case errors.As(err, &wrong):
		return wrong.reply()
	case errors.As(err, &problems):
		return newWrong(problems).reply()
	}
	return reply{Fault: err.Error()}
}

func (e *Engine) answer(text []byte, tell func([]byte)) (any, error) {
	var r request
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&r); err != nil {
		return nil, fmt.Errorf("this is no request: %w", err)
	}
	if _, err := d.Token(); err != io.EOF {
		return nil, errors.New("something follows the request")
	}
	if r.Units != "" {
		var err error
		if r.system, err = quantity.SystemNamed(r.Units); err != nil {
			return nil, err
		}
	}
	r.tell = telling(tell)
	switch r.Ask {
	case "stop":
		e.end(errStopped)
		return struct{}{}, nil
	case "start":
		return introduce(), nil
	case "catalog":
		return e.readCatalog(&r)
	case "shelf":
		return e.shelf(&r)
	case "file":
		return sortFile(&r)
	case "own":
		return own(&r), nil
	case "grid":
		return readGrid(&r)
	case "demo":
		return demoBrief(&r)
	case "rank":
		return e.rank(&r)
	case "count":
		return e.count(&r)
	case "relax":
		return e.relax(&r)
	case "without":
		return e.without(&r)
	case "spread":
		return e.spread(&r)
	case "field":
		return e.field(&r)
	case "alike":
		return e.alike(&r)
	case "curves":
		return e.curves(&r)
	case "sheet":
		return e.sheet(&r)
	case "vary":
		return e.vary(&r)
	case "save":
		return e.save(&r)
	}
	return nil, fmt.Errorf("there is no question %s", field.Quote(r.Ask))
}

// parts is the catalog that is asked about.
func (e *Engine) parts() *catalog.Catalog {
	e.mu.Lock()
	defer e.mu.Unlock()
	return e.catalog
}

// search is the context of a search that the next call of supersede ends.
func (e *Engine) search() context.Context {
	e.mu.Lock()
	defer e.mu.Unlock()
	return e.paused(e.current)
}

// supersede ends the searches under way, which are pointless.
func (e *Engine) supersede() { e.end(errCancelled) }

// end ends the searches under way, for a reason.
func (e *Engine) end(why error) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.cancel(why)
	e.current, e.cancel = context.WithCancelCause(context.Background())
}

// stopped reports whether a search has ended because the reader wants no more of it.
func stopped(ctx context.Context) bool { return errors.Is(context.Cause(ctx), errStopped) }

func (e *Engine) paused(ctx context.Context) context.Context {
	if e.pause == nil {
		return ctx
	}
	return &pausing{Context: ctx, pause: e.pause, last: time.Now()}
}

// pausing is a context of a search on one goroutine that lets other work go on
// when it is asked whether it has ended: a search asks often.
type pausing struct {
	context.Context
	pause func()
	last  time.Time // of a pause
	asked int
}

// How long a search runs between two pauses, and how often it is asked between
// two looks at the clock, which cost more than the question in a browser.
const (
	pauseEvery = 8 * time.Millisecond
	looksEvery = 16
)

func (p *pausing) Err() error {
	if p.asked++; p.asked%looksEvery == 0 && time.Since(p.last) >= pauseEvery {
		p.pause()
		p.last = time.Now()
	}
	return p.Context.Err()
}
