package slip

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"elbowroom/survey/length"
)

func habitOf(texts ...string) (h Habit) {
	for _, text := range texts {
		h.See(StyleOf(text, length.Inch, false))
	}
	return h
}

func TestHabit(t *testing.T) {
	share := func(h Habit, text string) float64 { return h.Share(StyleOf(text, length.Inch, false)) }
	sixteenths := habitOf("14 3/8", "7 1/16", "9", "11 1/2")
	for text, want := range map[string]float64{
		"8 5/16":  5. / 6,
		"8":       5. / 6,
		"8 5/32":  5. / 6 / 6 / 2, // half as far apart, and none was so
		"8 5/64":  5. / 6 / 6 / 4,
		"8.3":     1. / 6,
		"20.8 cm": 1, // another scale
		"211 mm":  1,
		"8 1/3":   1, // on no rule
	} {
		assert.InDelta(t, want, share(sixteenths, text), 1e-12, text)
	}
	decimals := habitOf("14.4", "7.1")
	assert.InDelta(t, 3./4, share(decimals, "8.3"), 1e-12)
	assert.InDelta(t, 1./4, share(decimals, "8 1/4"), 1e-12)

	// A habit that has seen nothing, or nothing in inches, prefers nothing.
	for _, h := range []Habit{{}, habitOf("211 mm", "x", "")} {
		assert.Equal(t, share(h, "8.3"), share(h, "8 5/64"))
	}
}
