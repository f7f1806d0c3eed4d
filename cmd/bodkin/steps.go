package main

import (
	"fmt"
	"io"
	"time"

	"github.com/schollz/progressbar/v3"
)

// manySteps is when a person is told how long a work will take.
const manySteps = 500

// steps shows how far a work of many steps has come. On a terminal that is a
// bar with the time that it still takes, once it has worked for a second; a
// work of many steps says on any output how long it will take, as measured on
// the first of them.
type steps struct {
	w      io.Writer
	bar    *progressbar.ProgressBar
	doing  string
	begun  time.Time
	first  time.Time // when the first step was done: it makes ready for the others
	n, of  int
	sample int // after so many steps the time is told
}

// showSteps begins to count. doing is what one step is about.
func showSteps(w io.Writer, of int, doing string) *steps {
	s := &steps{w: w, doing: doing, begun: time.Now(), of: of}
	if of > manySteps {
		s.sample = max(20, of/20)
	}
	if isTerminal(w) {
		s.bar = progressbar.NewOptions(of, progressbar.OptionSetWriter(w), progressbar.OptionSetDescription(doing),
			progressbar.OptionShowCount(), progressbar.OptionSetPredictTime(true), progressbar.OptionClearOnFinish())
	}
	return s
}

func (s *steps) step() {
	if s.n++; s.n == 1 {
		s.first = time.Now()
	}
	if s.n == s.sample {
		s.clear()
		each := time.Since(s.first) / time.Duration(s.n-1)
		fmt.Fprintf(s.w, "%s: about %s\n", count(s.of, s.doing, s.doing+"s"), span(time.Since(s.begun)+each*time.Duration(s.of-s.n)))
	}
	if s.bar != nil && time.Since(s.begun) > time.Second {
		_ = s.bar.Set(s.n)
	}
}

func (s *steps) done() { s.clear() }

func (s *steps) clear() {
	if s.bar != nil {
		_ = s.bar.Clear()
	}
}

// span writes a time as one would say it.
func span(d time.Duration) string {
	n := int((d + time.Second - 1) / time.Second)
	switch {
	case n <= 10:
		return fmt.Sprintf("%d s", max(1, n))
	case n < 100:
		return fmt.Sprintf("%d s", (n+4)/5*5)
	}
	return fmt.Sprintf("%d min", (n+59)/60)
}
