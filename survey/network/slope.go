package network

import "github.com/golang/geo/r3"

// sortTies lists the ties of each mark.
func (s *starter) sortTies() {
	count := make([]int, s.net.Marks)
	all := 0
	for l := range s.net.Ties {
		ends, n := s.net.Ties[l].marks()
		for _, m := range ends[:n] {
			count[m]++
		}
		all += n
	}
	store := make([]int, 0, all)
	s.ties = make([][]int, s.net.Marks)
	for m, n := range count {
		s.ties[m], store = store[:0:n], store[n:n:cap(store)]
	}
	for l := range s.net.Ties {
		ends, n := s.net.Ties[l].marks()
		for _, m := range ends[:n] {
			s.ties[m] = append(s.ties[m], l)
		}
	}
}

// slope is how far a tie's value moves for each mm that a mark moves, and the
// value.
func (s *starter) slope(t *Tie, m int) (by r3.Vector, value float64) {
	if t.Kind == Distance { // the most by far
		d := t.from(s.At)
		length := d.Norm()
		by = over(d, length)
		if t.Mark != m {
			by = by.Mul(-1)
		}
		return by, length
	}
	var buffer [6]pull
	for _, q := range t.pulls(s.At, buffer[:0]) {
		if q.block == m {
			by = by.Add(q.by)
		}
	}
	return by, t.value(s.At, s.none)
}
