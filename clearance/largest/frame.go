package largest

import (
	"math"

	"github.com/golang/geo/r3"

	"elbowroom/clearance"
	"elbowroom/solid"
)

// frame is the space as seen by boxes of one turn.
type frame struct {
	judge   *clearance.Judge
	drawn   *clearance.Judge // the same, that draws a line's rivals together
	turn    float64          // radians
	spreads map[int]*clearance.Spreads
	nodes   [][]r3.Vector // of each feature; nil for one that is no obstacle
	grow    []float64
	gap     []float64
	size    float64 // variances of the box as made and placed, mm2
	place   float64
	k       float64
	places  *places         // see placesOf
	leasts  map[int]float64 // see surely
}

func newFrame(t task, tank solid.Tank) (*frame, error) {
	j, err := clearance.NewJudge(t.space, tank, t.rules)
	if err != nil {
		return nil, err
	}
	f := &frame{judge: j.Quick(), drawn: j, turn: tank.Place.Turn.Radians(), spreads: map[int]*clearance.Spreads{}, leasts: map[int]float64{}, k: j.K()}
	f.size, f.place = j.Making()
	for i := range t.space.Features {
		nodes, _ := j.Nodes(i)
		f.nodes = append(f.nodes, nodes)
		f.grow = append(f.grow, t.space.Features[i].Grow)
		f.gap = append(f.gap, j.Gap(i))
	}
	return f, nil
}

func (f *frame) spread(feature int) *clearance.Spreads {
	s, ok := f.spreads[feature]
	if !ok {
		made := f.judge.Spreads(feature)
		f.spreads[feature], s = made, made
	}
	return s
}

// surely is a variance that any place of a feature has at least in any direction, mm2.
func (f *frame) surely(feature int) float64 {
	if v, ok := f.leasts[feature]; ok {
		return v
	}
	spread, nodes, pieces := f.spread(feature), len(f.nodes[feature]), f.judge.Pieces(feature)
	least := math.Inf(1)
	for i := range nodes {
		least = math.Min(least, spread.Node(i).Least())
	}
	for i, n := range pieces {
		if n > 1 {
			least = math.Min(least, spread.Piece(i).Least/float64(n))
		}
	}
	f.leasts[feature] = least
	return least
}

// rivalReach is from how many standard uncertainties beyond the nearest place on
// another one is no rival: clearance leaves those out of a line's probability.
const rivalReach = 6

// needOf is what a part must keep from a feature's places that are known exactly.
func (s *search) needOf(f *frame, h clearance.Held) need {
	model := f.judge.Model()
	part := model.Parts[h.Part]
	d := need{base: h.Gap + f.grow[h.Feature], k: f.k, place: f.place, size: f.size, body: part.Kind == solid.Body, most: math.Inf(1)}
	d.follow = components(part.Follow)
	if part.Fitting >= 0 {
		fit := model.Tank.Fittings[part.Fitting]
		for _, axis := range fit.Side.Axes() {
			d.fit[axis] = fit.Within * fit.Within / 3 // a rectangular limit
		}
	}
	// The nearest place of the feature decides the line; another one counts as its
	// rival while it is within reach of that.
	all := d
	all.base, all.k = 0, f.k+rivalReach
	if all.any() == 0 { // made exactly: what else is uncertain of every place
		all.least = f.surely(h.Feature)
	}
	d.most = all.any()
	return d
}

// need is what a part must keep from a place of a feature: of one of its nodes, or
// somewhere on a piece (node -1).
func (s *search) need(n *node, f *frame, c core, h clearance.Held, node int) need {
	d := s.needOf(f, h)
	spread := f.spread(h.Feature)
	if node >= 0 {
		own := spread.Node(node)
		d.single, d.node, d.levered = true, own.Cov, s.held(n, f, own.Levered)
		d.behind = components(f.judge.Behind(h.Feature))
		for a := range 3 {
			d.axis[a] = own.Cov[a][a]
			for b := range a {
				d.skew += math.Abs(own.Cov[a][b])
			}
		}
		return d
	}
	own := spread.Piece(h.Piece)
	axis := own.Axis
	most := math.Max(own.Least, math.Max(axis[0], math.Max(axis[1], axis[2])))
	mixed := s.mixed(n, f, c, h, d, most)
	d.least, d.skew = own.Least*mixed, own.Skew
	for a := range 3 {
		d.axis[a] = axis[a] * mixed
	}
	return d
}

// held leaves of the ways in which the face may hold the box those that can be at the
// boxes of a node: by the mark that stands most proud under it, or by its plane.
func (s *search) held(n *node, f *frame, ways [][3][3]float64) (left [][3][3]float64) {
	if n == nil || len(ways) < 2 || s.task.limits.StandOff.Given || n.cell.half() > 0 {
		return ways
	}
	proud := f.judge.Proud(f.judge.Model().Tank.Place.StandOff)
	highest := math.Inf(-1)
	for _, p := range proud {
		if p.X >= n.to[0] && p.X <= n.from[3] && p.Y >= n.to[1] && p.Y <= n.from[4] {
			highest = math.Max(highest, p.Z)
		}
	}
	if math.IsInf(highest, -1) {
		left = append(left, ways[0])
	}
	for k, p := range proud {
		if p.Z >= highest && p.X >= n.from[0] && p.X <= n.to[3] && p.Y >= n.from[1] && p.Y <= n.to[4] {
			left = append(left, ways[k+1])
		}
	}
	return left
}

// mostMixed is how many nodes make up a witness at most: see shape.Mix.
const mostMixed = 4

// mixed is the least sum of squares of the weights of a witness on a piece, for a box
// of the node that comes nearer to the piece than it needs. With n any direction
// and h a node's distance along n from all that the part can take up, the witness
// is at least the mix of the h away. That is no more than what is needed, so that
// what lies farther than the lowest node has little weight.
func (s *search) mixed(n *node, f *frame, c core, h clearance.Held, d need, variance float64) float64 {
	nodes := s.task.space.Features[h.Feature].Pieces[h.Piece].Nodes
	least := 1 / float64(min(len(nodes), mostMixed))
	if len(nodes) < 2 || c.leans {
		return least
	}
	wanted := d.base + d.k*math.Sqrt(variance+d.greatest())
	normal := h.Pins[0].Normal
	for _, way := range [4]r3.Vector{normal, {X: math.Copysign(1, normal.X)}, {Y: math.Copysign(1, normal.Y)}, {Z: math.Copysign(1, normal.Z)}} {
		if f.judge.Behind(h.Feature).Dot(way) < 0 {
			continue // what lies behind comes nearer that way
		}
		lowest, second := math.Inf(1), math.Inf(1)
		ends := c.end(n, way)
		for _, i := range nodes {
			switch up := way.Dot(f.nodes[h.Feature][i]) - ends; {
			case up < lowest:
				lowest, second = up, lowest
			case up < second:
				second = up
			}
		}
		if first := 1 - (wanted-lowest)/(second-lowest); second > lowest && first > 0 {
			least = math.Max(least, math.Min(1, first*first))
		}
	}
	return least
}

// end is how far along a direction a part can reach in a node.
func (c *core) end(n *node, way r3.Vector) float64 {
	sum, round := 0.0, 0.0
	for a, x := range components(way) {
		from, _ := c.low.at(n, a)
		_, to := c.high.at(n, a)
		sum += math.Max(x*from, x*to)
		if c.round[a] {
			round += x * x
		}
	}
	return sum + c.radius*math.Sqrt(round)
}

// spot is a place of a feature that is too near to a part.
type spot struct {
	at   r3.Vector // without the feature's thickness
	node int       // -1: between nodes
}

// spots are the places of a line that falls short which may be cut off: where it
// is nearest, what is closest to the middle of the part, and the piece's nodes.
func (f *frame) spots(h clearance.Held, piece []int, middle r3.Vector) []spot {
	p := h.Pins[0]
	if by := h.Pins[h.By]; len(by.Nodes) == 1 {
		p = by // a mark that may be nearest
	}
	node := -1
	if len(p.Nodes) == 1 {
		node = p.Nodes[0]
	}
	out := []spot{{p.OnFeature.Add(p.Normal.Mul(f.grow[h.Feature])), node}}
	if len(piece) == 1 {
		node = piece[0]
	} else {
		node = -1
	}
	out = append(out, spot{f.judge.Closest(h.Feature, h.Piece, middle), node})
	if len(piece) > 1 {
		for _, n := range piece {
			out = append(out, spot{f.nodes[h.Feature][n], n})
		}
	}
	return out
}
