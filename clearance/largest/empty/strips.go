package empty

// strips holds the rectangles that are alive so that those an obstacle cuts are
// found among few. Maximal empty rectangles are long and thin, most of them: so
// the plane is cut into strips, flat rectangles stand in each strip along x that
// they touch and tall ones in each along y, most of them in one or two; those
// that would stand in many are broad and stand in a list of their own.
type strips struct {
	alive      []alive // also those that were cut, until the next tidying
	count      int     // of those not cut
	flat, tall [][]standing
	broad      []standing
	nx, ny     int32 // edges
}

// A standing rectangle is one of those alive, by number.
type standing struct {
	rect
	number int32
}

// Measured at 500 and 5,000 points, scattered and in bad order: twice or half
// as many strips are no faster, and without a broad list the bad order takes
// three times as long.
const (
	stripsPerAxis = 64
	fewStrips     = 4
)

func newStrips(nx, ny int) strips {
	return strips{nx: int32(nx), ny: int32(ny),
		flat: make([][]standing, stripsPerAxis), tall: make([][]standing, stripsPerAxis)}
}

// cutDead marks a rectangle that was cut.
const cutDead = -1

func (s *strips) add(r alive) {
	s.alive = append(s.alive, r)
	s.count++
	s.stand(r.rect, int32(len(s.alive)-1))
}

func (s *strips) stand(r rect, number int32) {
	in, from, to := s.flat, strip(r.y0, s.ny), strip(r.y1, s.ny)
	if int64(r.x1-r.x0)*int64(s.ny) < int64(r.y1-r.y0)*int64(s.nx) {
		in, from, to = s.tall, strip(r.x0, s.nx), strip(r.x1, s.nx)
	}
	if to-from > fewStrips {
		s.broad = append(s.broad, standing{r, number})
		return
	}
	for k := from; k <= to; k++ {
		in[k] = append(in[k], standing{r, number})
	}
}

// strip is the one that an edge is in.
func strip(edge, of int32) int32 {
	return int32(int64(edge) * stripsPerAxis / int64(of))
}

// cut takes away the rectangles that an obstacle hits, and appends them to a list.
func (s *strips) cut(b rect, list []alive) []alive {
	for k := strip(b.y0, s.ny); k <= strip(b.y1, s.ny); k++ {
		s.flat[k], list = s.cutIn(s.flat[k], b, list)
	}
	for k := strip(b.x0, s.nx); k <= strip(b.x1, s.nx); k++ {
		s.tall[k], list = s.cutIn(s.tall[k], b, list)
	}
	s.broad, list = s.cutIn(s.broad, b, list)
	if len(s.alive) > 2*s.count+1000 {
		s.tidy()
	}
	return list
}

func (s *strips) cutIn(in []standing, b rect, list []alive) ([]standing, []alive) {
	for k := 0; k < len(in); k++ {
		if !in[k].hits(b) {
			continue
		}
		if r := &s.alive[in[k].number]; r.born != cutDead {
			list = append(list, *r)
			r.born = cutDead
			s.count--
		}
		last := len(in) - 1
		in[k] = in[last]
		in = in[:last]
		k--
	}
	return in, list
}

// tidy forgets the rectangles that were cut.
func (s *strips) tidy() {
	s.broad = s.broad[:0]
	for k := range stripsPerAxis {
		s.flat[k], s.tall[k] = s.flat[k][:0], s.tall[k][:0]
	}
	kept := s.alive[:0]
	for _, r := range s.alive {
		if r.born != cutDead {
			kept = append(kept, r)
			s.stand(r.rect, int32(len(kept)-1))
		}
	}
	s.alive = kept
}
