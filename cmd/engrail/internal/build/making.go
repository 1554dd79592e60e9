package build

import (
	"bytes"
	"fmt"
	"runtime"
)

// usualFile is the size in bytes of most files of lines.
const usualFile = 1 << 16

// madeFile is a file that is made and read back, or why it could not be.
type madeFile struct {
	content  *bytes.Buffer
	proof    *Proof
	err      error
	panicked any
}

// making makes files on all processors, a few ahead of the one that is wanted next.
type making struct {
	files   []chan madeFile // of each output
	at      int             // of the next
	buffers chan *bytes.Buffer
	quit    chan struct{}
}

// makeAll begins to make the files of the outputs.
func (p *Plan) makeAll(outputs []output) *making {
	workers := runtime.GOMAXPROCS(0)
	m := &making{
		files: make([]chan madeFile, len(outputs)),
		// As many files as there are buffers lie between the first that is not yet
		// stored and the last that is being made.
		buffers: make(chan *bytes.Buffer, 2*workers),
		quit:    make(chan struct{}),
	}
	for range cap(m.buffers) {
		m.buffers <- bytes.NewBuffer(make([]byte, 0, usualFile))
	}
	for i := range m.files {
		m.files[i] = make(chan madeFile, 1)
	}
	running := make(chan struct{}, workers)
	go func() {
		for i, o := range outputs {
			var b *bytes.Buffer
			select {
			case b = <-m.buffers:
			case <-m.quit:
				return
			}
			select {
			case running <- struct{}{}:
			case <-m.quit:
				return
			}
			go func() {
				m.files[i] <- p.makeOne(o, b)
				<-running
			}()
		}
	}()
	return m
}

// makeOne makes a file and reads it back.
func (p *Plan) makeOne(o output, b *bytes.Buffer) (f madeFile) {
	defer func() {
		if r := recover(); r != nil {
			f.panicked = fmt.Sprintf("%s: %v", o.name, r)
		}
	}()
	b.Reset()
	f.content = b
	if f.err = p.make(b, o); f.err == nil {
		f.proof, f.err = o.prove(b.Bytes())
	}
	return f
}

// next waits for the next file. A panic while it was made is one here.
func (m *making) next() madeFile {
	f := <-m.files[m.at]
	m.at++
	if f.panicked != nil {
		panic(f.panicked)
	}
	return f
}

// done takes back the room of a file that is stored.
func (m *making) done(f madeFile) { m.buffers <- f.content }

// stop makes no more files.
func (m *making) stop() { close(m.quit) }
