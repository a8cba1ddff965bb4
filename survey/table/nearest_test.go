package table

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNearest(t *testing.T) {
	known := []string{"feature", "mark", "x", "y", "z", "within", "base", "note", "from", "to", "inside_radius", "bend_radius", "bend_radius_to", "öl"}
	for word, want := range map[string]string{
		"feature":        "feature", // nothing wrong
		"Feature":        "feature",
		"featre":         "feature", // left out
		"featuree":       "feature", // put in
		"feeture":        "feature", // mistaken
		"faeture":        "feature", // swapped
		"withn":          "within",
		"wihtin":         "within",
		"form":           "from", // swapped: one slip, where plain edits are two
		"mork":           "mark",
		"nite":           "note",
		"inside radius":  "inside_radius",
		"Inside-Radius":  "inside_radius",
		"insde_radus":    "inside_radius",
		"bend_radius_t":  "bend_radius_to", // as near as bend_radius is not
		"bend_raduis":    "bend_radius",
		"x":              "x",
		"a":              "", // a third of one letter is none
		"xx":             "",
		"photo":          "",
		"":               "",
		"tolerance":      "",
		"bend_something": "",
	} {
		got, ok := Nearest(word, known)
		assert.Equal(t, want, got, word)
		assert.Equal(t, want != "", ok, word)
	}
	_, ok := Nearest("mark", nil)
	assert.False(t, ok)
	first, _ := Nearest("cart", []string{"card", "cars"})
	assert.Equal(t, "card", first, "of equals the first")
	first, _ = Nearest("cart", []string{"cars", "card"})
	assert.Equal(t, "cars", first, "of equals the first")
}

// slips against the plain recursion that defines it.
func TestSlipsByDefinition(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 7))
	word := func() []rune {
		w := make([]rune, random.IntN(6))
		for i := range w {
			w[i] = rune('a' + random.IntN(3))
		}
		return w
	}
	for range 3000 {
		a, b := word(), word()
		got := slips(a, b)
		assert.Equal(t, defined(a, b), got, "%s %s", string(a), string(b))
		assert.Equal(t, got, slips(b, a), "%s %s: symmetry", string(a), string(b))
		assert.Zero(t, slips(a, a))
	}
}

func defined(a, b []rune) int {
	if len(a) == 0 || len(b) == 0 {
		return len(a) + len(b)
	}
	i, j := len(a)-1, len(b)-1
	same := 1
	if a[i] == b[j] {
		same = 0
	}
	n := min(defined(a[:i], b)+1, defined(a, b[:j])+1, defined(a[:i], b[:j])+same)
	if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
		n = min(n, defined(a[:i-1], b[:j-1])+1)
	}
	return n
}
