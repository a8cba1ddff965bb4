package job

import (
	"errors"
	"fmt"
	"strings"

	"github.com/golang/geo/r3"

	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// least says which lengths and angles a key takes.
type least int

const (
	unlimited least = iota // below zero too
	fromZero               // zero or more
	overZero               // more than zero
)

func (r *reader) atLeast(n node, v float64, from least) bool {
	switch {
	case from == fromZero && v < 0:
		r.complain(n, table.Quote(n.text)+" is less than 0", "write 0 or more")
	case from == overZero && v <= 0:
		r.complain(n, table.Quote(n.text)+" is too small", "write more than 0")
	default:
		return true
	}
	return false
}

// word is a node's text; anything but a scalar is a problem.
func (r *reader) word(n node, what string) (string, bool) {
	if n.kind == scalar && n.text != "" {
		return n.text, true
	}
	switch n.kind {
	case list, mapping:
		r.complain(n, what+" belongs here, not several values", "write one value")
	case nothing, scalar:
		r.complain(n, "nothing stands here", "write "+what)
	}
	return "", false
}

// text reads the text under key.
func (s section) text(key string, into *string) {
	if n, ok := s.get(key); ok {
		if t, ok := s.r.word(n, "a text"); ok {
			*into = t
		}
	}
}

// length reads the length under key.
func (s section) length(key string, from least, into *float64) (given bool) {
	n, ok := s.get(key)
	if ok {
		if v, ok := s.r.length(n, from); ok {
			*into = v
			return true
		}
	}
	return false
}

func (r *reader) length(n node, from least) (float64, bool) {
	t, ok := r.word(n, "a length")
	if !ok {
		return 0, false
	}
	v, err := length.Parse(t, r.unit, false)
	return v, r.mistake(n, err) && r.atLeast(n, v, from)
}

// mistake passes on what length says; it is true where there is none.
func (r *reader) mistake(n node, err error) bool {
	var m *length.Mistake
	if errors.As(err, &m) {
		r.complain(n, m.What, m.Alone().Mend)
	}
	return err == nil
}

// limit reads the limit under key, as in 1/16 or +0 -1/8.
func (s section) limit(key string, into *length.Limit) {
	n, ok := s.get(key)
	if !ok {
		return
	}
	if t, ok := s.r.word(n, "a limit"); ok {
		limit, err := length.ParseLimit(t, s.r.unit, false)
		if s.r.mistake(n, err) {
			*into = limit
		}
	}
}

// lengths reads a list of as many lengths as names has entries.
func (r *reader) lengths(n node, from least, names ...string) ([]float64, bool) {
	if n.kind == refused {
		return nil, false
	}
	if n.kind != list || len(n.items) != len(names) {
		r.complain(n, fmt.Sprintf("%s lengths belong here: %s", number(len(names)), strings.Join(names, ", ")), listMend(n, names))
		return nil, false
	}
	out, all := make([]float64, len(names)), true
	for i, item := range n.items {
		v, ok := r.length(item, from)
		out[i], all = v, all && ok
	}
	return out, all
}

// number is two or three in words.
func number(n int) string {
	if n == 2 {
		return "two"
	}
	return "three"
}

// listMend shows how a list of lengths is written. Twice as many as belong there
// are likely decimal commas.
func listMend(n node, names []string) string {
	if n.kind != list || len(n.items) != 2*len(names) {
		return "write them as [" + strings.Join(names, ", ") + "]"
	}
	var whole []string
	for i := 0; i < len(n.items); i += 2 {
		whole = append(whole, n.items[i].text+"."+n.items[i+1].text)
	}
	return "a comma parts them, so write decimal points: [" + strings.Join(whole, ", ") + "]"
}

// vector reads three lengths, called names in a complaint.
func (r *reader) vector(n node, from least, names ...string) (r3.Vector, bool) {
	v, ok := r.lengths(n, from, names...)
	if !ok {
		return r3.Vector{}, false
	}
	return r3.Vector{X: v[0], Y: v[1], Z: v[2]}, true
}

// span reads a range [lesser, greater].
func (r *reader) span(n node) (lo, hi float64, ok bool) {
	v, ok := r.lengths(n, unlimited, "from", "to")
	if !ok {
		return 0, 0, false
	}
	if !(v[0] < v[1]) {
		r.complain(n, fmt.Sprintf("the range runs from %s to %s", n.items[0].text, n.items[1].text), "write the lesser first, then the greater")
		return 0, 0, false
	}
	return v[0], v[1], true
}

// yes reads true or false under key.
func (s section) yes(key string, into *bool) {
	n, ok := s.get(key)
	if !ok {
		return
	}
	t, ok := s.r.word(n, "true or false")
	if !ok {
		return
	}
	switch strings.ToLower(t) {
	case "true", "yes", "on":
		*into = true
	case "false", "no", "off":
		*into = false
	default:
		s.r.complain(n, table.Quote(n.text)+" is neither true nor false", "write "+key+": true or "+key+": false")
	}
}

// choice reads one of several words under key.
func (s section) choice(key string, words ...string) (n node, index int, given bool) {
	n, ok := s.get(key)
	if !ok {
		return n, 0, false
	}
	t, ok := s.r.word(n, "a word")
	if !ok {
		return n, 0, false
	}
	for i, w := range words {
		if strings.EqualFold(w, t) {
			return n, i, true
		}
	}
	all := "write one of "
	if len(words) == 1 {
		all = "leave it out, or write "
	}
	s.r.complain(n, table.Quote(t)+" is no word for "+key, likely(t, words, all))
	return n, 0, false
}
