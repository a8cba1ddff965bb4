package cli

import (
	"fmt"
	"io"
	"strings"
	"time"
)

// bar tells on a terminal how far a long run is.
type bar struct {
	out   io.Writer
	draws bool // out is a terminal
	of    int
	began time.Time
	shown time.Time
	width int // of what stands there now
}

const (
	// many is from how many sizes on the run is said to be long even in a pipe.
	many = 100_000
	// patience is how long nothing needs to be said, and interval how often the
	// bar is drawn.
	patience = time.Second
	interval = 100 * time.Millisecond
)

func newBar(out io.Writer, draws bool, of int) *bar {
	return &bar{out: out, draws: draws, of: of, began: time.Now()}
}

// done is told how many are checked.
func (b *bar) done(n int) {
	now := time.Now()
	spent := now.Sub(b.began)
	if spent < patience || now.Sub(b.shown) < interval {
		return
	}
	left := time.Duration(float64(spent) * float64(b.of-n) / float64(n))
	if b.shown.IsZero() && b.of >= many {
		fmt.Fprintf(b.out, "%d sizes: about %s; Ctrl-C stops and keeps what is done.\n", b.of, spoken(spent+left))
	}
	b.shown = now
	if !b.draws {
		return
	}
	b.wipe()
	const cells = 30
	full := cells * n / b.of
	text := fmt.Sprintf("[%s%s] %d of %d sizes, %s left", strings.Repeat("#", full), strings.Repeat(".", cells-full), n, b.of, spoken(left))
	fmt.Fprint(b.out, text)
	b.width = len(text)
}

// wipe takes the bar off the screen.
func (b *bar) wipe() {
	if b.width > 0 {
		fmt.Fprintf(b.out, "\r%s\r", strings.Repeat(" ", b.width))
		b.width = 0
	}
}

func (b *bar) end() { b.wipe() }

// spoken is a time as people say it.
func spoken(d time.Duration) string {
	switch {
	case d < 100*time.Second:
		return fmt.Sprintf("%.0f s", d.Seconds())
	case d < 100*time.Minute:
		return fmt.Sprintf("%.0f min", d.Minutes())
	}
	return fmt.Sprintf("%.0f h", d.Hours())
}
