package slip

import "regexp"

// digits are the slips with single digits. They change the digits where they
// stand, so all else stays as written.
func (c *catalogue) digits() {
	core := []rune(c.core())
	c.swaps(core)
	c.flips(core)
	c.turned()
}

func isDigit(r rune) bool { return '0' <= r && r <= '9' }

// swaps are neighbouring digits the wrong way round, also on either side of the
// decimal point.
func (c *catalogue) swaps(core []rune) {
	var texts []string
	for i := range core {
		j := i + 1
		if c.point != "" && j < len(core) && (core[j] == '.' || core[j] == ',') {
			j++
		}
		if j >= len(core) || !isDigit(core[i]) || !isDigit(core[j]) || core[i] == core[j] {
			continue
		}
		other := append([]rune(nil), core...)
		other[i], other[j] = other[j], other[i]
		texts = append(texts, string(other))
	}
	c.each("two digits swapped", texts, digitsSwapped)
}

// flips are a 6 for a 9 and a 9 for a 6.
func (c *catalogue) flips(core []rune) {
	var sixes, nines []string
	for i, r := range core {
		other := append([]rune(nil), core...)
		switch r {
		case '9':
			other[i] = '6'
			sixes = append(sixes, string(other))
		case '6':
			other[i] = '9'
			nines = append(nines, string(other))
		}
	}
	share := oneFlipped / float64(max(1, len(sixes)+len(nines)))
	c.each("a 6 read as a 9", sixes, share*float64(len(sixes)))
	c.each("a 9 read as a 6", nines, share*float64(len(nines)))
}

// upsideDownOf are the digits that are digits upside down.
var upsideDownOf = map[rune]rune{'0': '0', '1': '1', '6': '9', '8': '8', '9': '6'}

// turned is the whole number read upside down: 16 for 91. A single digit is a
// flip.
func (c *catalogue) turned() {
	if len(c.whole) < 2 {
		return
	}
	w := c.written
	w.whole = ""
	for _, r := range c.whole {
		other, ok := upsideDownOf[r]
		if !ok {
			return
		}
		w.whole = string(other) + w.whole
	}
	c.each("read upside down", []string{w.core()}, upsideDown)
}

// noughts finds a number that begins with a nought, as nobody writes.
var noughts = regexp.MustCompile(`(?:^|[^\d.,])0\d`)

// each takes slips that are equally likely and share a prior. What nobody writes
// is left out: noughts in front, and 61sts for 16ths.
func (c *catalogue) each(name string, cores []string, prior float64) {
	for _, core := range cores {
		w, ok := take(c.lead+core+c.tail, c.unit, c.comma)
		if ok && !noughts.MatchString(core) && (onRule(w.part()) || !onRule(c.part())) {
			c.add(name, w.text(), prior/float64(len(cores)))
		}
	}
}
