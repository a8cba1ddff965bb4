package slip

import (
	"math"
	"regexp"
	"sort"
	"strings"

	"elbowroom/survey/table"
)

// WrongMarks lists the known marks that a person may have meant by name:
// likeliest first, and of equals in the order of known; name itself is none of
// them. They are the marks beside it in its own row (B2 for B3), those whose
// number or letter looks or sounds alike (H1 for H7, T1 for L1), the other of a
// pair (hinge-left for hinge-right), a typing slip, and last all others of its
// row.
func WrongMarks(name string, known []string) []WrongMark {
	var like []WrongMark
	seen := map[string]bool{name: true}
	for _, k := range known {
		if rank, ok := alike(name, k); ok && !seen[k] {
			seen[k] = true
			like = append(like, WrongMark{k, math.Ldexp(1, -rank)})
		}
	}
	sort.SliceStable(like, func(i, j int) bool { return like[i].Weight > like[j].Weight })
	return like
}

// WrongMark is a mark that may have been meant.
type WrongMark struct {
	Name string
	// Weight is how likely it is beside the others: from each kind of likeness
	// to the next it halves (own judgement).
	Weight float64
}

// The ranks of likeness, likeliest first (own judgement).
const (
	sameBut    = iota // for capitals, blanks and dashes
	beside            // the numbers are neighbours, or the names a pair
	looksLike         // one character that looks like another
	mistyped          // one typing slip
	sameRow           // only the numbers differ
	sameNumber        // only the letter differs
)

var stemAndNumber = regexp.MustCompile(`^(.*?)(\d*)$`)

// alike ranks how like two names are; ok is false for names that nobody takes
// for each other.
func alike(a, b string) (rank int, ok bool) {
	x, y := stemAndNumber.FindStringSubmatch(plain(a)), stemAndNumber.FindStringSubmatch(plain(b))
	stems, numbers := x[1] == y[1], x[2] == y[2]
	_, slip := table.Nearest(a, []string{b})
	_, back := table.Nearest(b, []string{a})
	switch {
	case stems && numbers:
		return sameBut, true
	case stems && neighbours(x[2], y[2]), pair(x[0], y[0]):
		return beside, true
	case lookAlike(x[0], y[0]), stems && swapped(x[2], y[2]):
		return looksLike, true
	case slip, back:
		return mistyped, true
	case stems && x[1] != "" && x[2] != "" && y[2] != "":
		return sameRow, true
	case numbers && x[2] != "" && len([]rune(x[1])) == 1 && len([]rune(y[1])) == 1:
		return sameNumber, true
	}
	return 0, false
}

// plain is a name as it is compared.
func plain(name string) string {
	return strings.NewReplacer("-", " ", "_", " ").Replace(strings.ToLower(strings.TrimSpace(name)))
}

// neighbours says that two numbers follow each other: 9 and 10.
func neighbours(a, b string) bool { return a != "" && (next(a) == b || next(b) == a) }

// next is the number after n in digits, with as many noughts in front.
func next(n string) string {
	d := []byte(n)
	for i := len(d) - 1; i >= 0; i-- {
		if d[i] < '9' {
			d[i]++
			return string(d)
		}
		d[i] = '0'
	}
	return "1" + string(d)
}

// swapped says that two numbers have two neighbouring digits the other way round.
func swapped(a, b string) bool {
	if len(a) != len(b) {
		return false
	}
	for i := 0; i+1 < len(a); i++ {
		if a[i] != b[i] {
			return a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
		}
	}
	return false
}

// looks are characters that a hand writes, or an ear hears, alike.
var looks = []string{"17", "27", "38", "35", "49", "56", "69", "08", "06", "1il", "0o", "2z", "5s", "8b", "7t", "uv", "mn", "tl", "hn", "bd", "bp", "dt", "ef", "ij", "cg", "pf", "ce"}

// lookAlike says that two names differ in one character that looks alike.
func lookAlike(a, b string) bool {
	x, y := []rune(a), []rune(b)
	if len(x) != len(y) {
		return false
	}
	apart := 0
	for i := range x {
		if x[i] == y[i] {
			continue
		}
		apart++
		like := false
		for _, l := range looks {
			like = like || strings.ContainsRune(l, x[i]) && strings.ContainsRune(l, y[i])
		}
		if !like {
			return false
		}
	}
	return apart == 1
}

// pairs are words for the two of a kind.
var pairs = [][2]string{
	{"left", "right"}, {"front", "rear"}, {"front", "back"}, {"top", "bottom"}, {"upper", "lower"}, {"inner", "outer"},
	{"inside", "outside"}, {"near", "far"}, {"inlet", "outlet"}, {"in", "out"}, {"start", "end"}, {"first", "last"},
}

// pair says that two names are those of the two of a pair.
func pair(a, b string) bool {
	for _, p := range pairs {
		for _, q := range [2][2]string{p, {p[1], p[0]}} {
			if other, ok := word(a, q[0], q[1]); ok && other == b {
				return true
			}
		}
	}
	return false
}

// word puts one word in the place of another, where it stands as a whole word.
func word(name, from, to string) (string, bool) {
	words := strings.Fields(name)
	for i, w := range words {
		if stem := strings.TrimRight(w, "0123456789"); stem == from {
			words[i] = to + w[len(stem):]
			return strings.Join(words, " "), true
		}
	}
	return "", false
}
