//go:build !js

package site

import (
	"bytes"
	"compress/gzip"
	"io"
	"sync"

	"github.com/andybalholm/brotli"
)

// window is the base-two logarithm of how far brotli looks back, in bytes: the
// farthest that every browser reads.
const window = 24

// Squeeze makes what each engine lacks of its three forms; quality is that of
// brotli.
func (e *Engines) Squeeze(quality int) error {
	var all sync.WaitGroup
	engines := []*Engine{&e.Plain, &e.Program}
	errs := make([]error, 2*len(engines))
	for i, engine := range engines {
		if engine.Wasm == nil { // of a release
			var err error
			if engine.Wasm, err = io.ReadAll(brotli.NewReader(bytes.NewReader(engine.Brotli))); err != nil {
				return err
			}
		}
		if engine.Brotli == nil {
			all.Go(func() { engine.Brotli, errs[2*i] = brotlied(engine.Wasm, quality) })
		}
		if engine.Gzip == nil {
			all.Go(func() { engine.Gzip, errs[2*i+1] = gzipped(engine.Wasm) })
		}
	}
	all.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

func gzipped(data []byte) ([]byte, error) {
	var out bytes.Buffer
	w, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	return squeezed(&out, w, data)
}

func brotlied(data []byte, quality int) ([]byte, error) {
	var out bytes.Buffer
	return squeezed(&out, brotli.NewWriterOptions(&out, brotli.WriterOptions{Quality: quality, LGWin: window}), data)
}

// squeezed is what w writes to out of the data.
func squeezed(out *bytes.Buffer, w io.WriteCloser, data []byte) ([]byte, error) {
	if _, err := w.Write(data); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}
