package table

import "strings"

// Nearest finds the known word that a mistyped one most likely stands for: the
// first of those that take the fewest slips to type (a letter left out, put in,
// mistaken, or two neighbours swapped), if the slips are at most a third of the
// word's letters. Case does not count, and blanks, dashes and underscores are
// one.
//
// Source: Damerau 1964, A technique for computer detection and correction of
// spelling errors, Communications of the ACM 7(3), 171-176.
func Nearest(word string, known []string) (string, bool) {
	typed := letters(word)
	best, least := "", len(typed)/3+1
	for _, k := range known {
		right := letters(k)
		if apart := len(right) - len(typed); apart >= least || -apart >= least {
			continue // it takes a slip for each letter more or less
		}
		if n := slips(typed, right); n < least {
			best, least = k, n
		}
	}
	return best, best != ""
}

// letters is a word as it is compared.
func letters(word string) []rune {
	return []rune(strings.NewReplacer("-", " ", "_", " ").Replace(strings.ToLower(trim(word))))
}

// slips is the distance of two words: the fewest slips that turn one into the
// other, where no letter is touched twice (optimal string alignment).
func slips(a, b []rune) int {
	// The rows of the table for a[:i-2], a[:i-1] and a[:i] against every b[:j].
	before, last, this := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range this {
		this[j] = j
	}
	for i := 1; i <= len(a); i++ {
		before, last, this = last, this, before
		this[0] = i
		for j := 1; j <= len(b); j++ {
			mistaken := last[j-1]
			if a[i-1] != b[j-1] {
				mistaken++
			}
			this[j] = min(last[j]+1, this[j-1]+1, mistaken)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				this[j] = min(this[j], before[j-2]+1)
			}
		}
	}
	return this[len(b)]
}
