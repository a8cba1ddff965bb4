package survey

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"elbowroom/survey/length"
	"elbowroom/survey/mesh"
	"elbowroom/survey/network"
	"elbowroom/survey/table"
)

// shapes makes the features' pieces.
func (a *adjuster) shapes() {
	for _, spec := range a.readings.Features {
		f := Feature{Spec: spec, Behind: spec.Behind}
		for _, m := range a.members[spec.Name] {
			if a.space.Marks[m].Located {
				f.Nodes = append(f.Nodes, Node{Mark: m, At: a.space.Marks[m].At})
			} else {
				f.Missing = append(f.Missing, m)
			}
		}
		if spec.Mount {
			a.space.Mount = len(a.space.Features)
		}
		if a.enough(f) {
			a.shape(&f)
		}
		a.space.Features = append(a.space.Features, f)
	}
}

// enough says whether a feature has the marks that its shape takes. Marks that
// still need a tape, or stand in a file that is not used yet, make no error: the
// report says so.
func (a *adjuster) enough(f Feature) bool {
	have := len(f.Nodes)
	need, _ := f.Spec.needs()
	if have >= need {
		return true
	}
	if have+len(f.Missing) < need && !a.elsewhere[f.Spec.Name] {
		a.complain(f.Spec.Pos, "features."+f.Spec.Name, "", fmt.Sprintf("%s has %d of the %d marks that a %s takes", f.Spec.Name, have, need, f.Spec.Shape), "measure more of it, or give it another shape")
	}
	return false
}

func (a *adjuster) shape(f *Feature) {
	if f.Spec.Run {
		f.Grow = f.Spec.Diameter / 2
		f.sink()
		return // a hose's run is no obstacle: it has nodes and no pieces
	}
	switch f.Spec.Shape {
	case Face:
		a.face(f)
	case Edge:
		f.Grow = f.Spec.Round
		f.chain()
	case Tube:
		f.Grow = f.Spec.Diameter / 2
		f.sink()
		f.chain()
	case Skin:
		a.skin(f)
	case Block:
		a.block(f)
	case Dots:
		f.Grow = f.Spec.Round
		f.loose()
	}
}

// chain joins each node to the next.
func (f *Feature) chain() {
	for i := 1; i < len(f.Nodes); i++ {
		f.Pieces = append(f.Pieces, Piece{[]int{i - 1, i}})
	}
}

// loose makes a piece of each node that there is now.
func (f *Feature) loose() {
	for i := range f.Nodes {
		f.Pieces = append(f.Pieces, Piece{[]int{i}})
	}
}

// sink moves a tube's nodes from the skin that was touched to the centre line.
func (f *Feature) sink() {
	for i := range f.Nodes {
		f.Nodes[i].At = f.Nodes[i].At.Sub(f.Spec.Touched.Mul(f.Grow))
	}
}

// points lists where the feature's nodes are.
func (f *Feature) points() []r3.Vector {
	at := make([]r3.Vector, len(f.Nodes))
	for i, n := range f.Nodes {
		at[i] = n.At
	}
	return at
}

// face is each mark itself, the marks' hull in the fitted plane, and all behind.
func (a *adjuster) face(f *Feature) {
	plane, err := a.fit(f)
	if err != nil {
		a.degenerate(f, err)
		return
	}
	f.Plane = &plane
	if f.Spec.Mount && f.Behind == (r3.Vector{}) {
		f.Behind = r3.Vector{Z: -1}
	}
	marks := f.points()
	f.loose()
	flat := make([]r2.Point, len(marks))
	for i, p := range marks {
		flat[i] = r2.Point{X: p.Sub(plane.Centre).Dot(plane.S), Y: p.Sub(plane.Centre).Dot(plane.T)}
	}
	var hull []int
	for _, i := range mesh.Hull(flat) {
		at := plane.Centre.Add(plane.S.Mul(flat[i].X)).Add(plane.T.Mul(flat[i].Y))
		hull = append(hull, len(f.Nodes))
		f.Nodes = append(f.Nodes, Node{Mark: f.Nodes[i].Mark, At: at, Planar: true})
	}
	f.Pieces = append(f.Pieces, Piece{hull})
}

// fit fits the feature's plane through its nodes, each with its mark's
// uncertainty along the plane's normal: first with the mean over the three
// directions, then, where a network makes them differ, along the normal found.
// With a frame that hangs on the face itself the mean stays: the network was
// adjusted in that very frame.
func (a *adjuster) fit(f *Feature) (network.Plane, error) {
	u := make([]float64, len(f.Nodes))
	f.Fitted = make([]int, len(f.Nodes))
	netted := false
	for i, n := range f.Nodes {
		f.Fitted[i] = n.Mark
		u[i] = a.space.Uncertainty(n.Mark)
		_, in := a.space.net.at(n.Mark)
		netted = netted || in
	}
	plane, err := network.FitPlane(f.points(), floored(u))
	if err != nil || !netted || a.readings.Frame != nil {
		return plane, err
	}
	p := a.space.Spreader()
	for i, n := range f.Nodes {
		terms := p.Terms(Gradient{{n.Mark, plane.Normal}})
		u[i] = math.Sqrt(Dot(terms, terms))
	}
	return network.FitPlane(f.points(), floored(u))
}

// floored keeps an exact mark from having all the weight: where any mark is
// not exact, an exact one counts as a hundred times as good as the best of
// them; where all are exact they count alike.
func floored(u []float64) []float64 {
	best := math.Inf(1)
	for _, x := range u {
		if x > 0 {
			best = math.Min(best, x)
		}
	}
	if math.IsInf(best, 1) {
		return nil
	}
	for i := range u {
		u[i] = math.Max(u[i], best/100)
	}
	return u
}

func (a *adjuster) degenerate(f *Feature, err error) {
	a.complain(f.Spec.Pos, "features."+f.Spec.Name, "", fmt.Sprintf("%s is no %s: %s", f.Spec.Name, f.Spec.Shape, err), "measure a mark to one side of the others")
}

// skin is the triangles through the marks. A mark that is no corner of a
// triangle (straight under or over another, or only of slivers along the rim)
// is still a thing that was touched.
func (a *adjuster) skin(f *Feature) {
	surface, err := mesh.Skin(f.points(), nil)
	if err != nil {
		a.degenerate(f, err)
		return
	}
	joined := make([]bool, len(f.Nodes))
	for _, t := range surface.Triangles {
		f.Pieces = append(f.Pieces, Piece{[]int{t[0], t[1], t[2]}})
		joined[t[0]], joined[t[1]], joined[t[2]] = true, true, true
	}
	for i := range f.Nodes {
		if !joined[i] {
			f.Pieces = append(f.Pieces, Piece{[]int{i}})
		}
	}
	for _, hidden := range surface.LeftOut {
		if hidden.Rise != 0 {
			a.foldDoubt(f, []int{hidden.Mark, hidden.Under})
		}
	}
	for _, steep := range surface.Steep {
		t := surface.Triangles[steep.Triangle]
		// A triangle narrower than three times its marks' uncertainty has no
		// slope to speak of.
		if u := a.space.Uncertainty(f.Nodes[t[0]].Mark) + a.space.Uncertainty(f.Nodes[t[1]].Mark) + a.space.Uncertainty(f.Nodes[t[2]].Mark); steep.Width > u {
			a.foldDoubt(f, t[:])
		}
	}
}

func (a *adjuster) foldDoubt(f *Feature, nodes []int) {
	names := make([]string, len(nodes))
	for i, n := range nodes {
		names[i] = a.space.Marks[f.Nodes[n].Mark].Name
	}
	a.doubt(Doubt{Pos: a.space.Marks[f.Nodes[nodes[0]].Mark].Pos, Weight: 2, Says: fmt.Sprintf("%s is steep or folds over at %s: the surface drawn between its marks may not be the real one", f.Spec.Name, strings.Join(names, ", "))})
}

// block is the hull of the marks. One whose marks lie in a plane has no
// thickness: it is kept, as a plate, and doubted.
func (a *adjuster) block(f *Feature) {
	all := make([]int, len(f.Nodes))
	for i := range all {
		all[i] = i
	}
	f.Pieces = []Piece{{all}}
	plane, err := network.FitPlane(f.points(), nil)
	if errors.Is(err, network.ErrNoNormal) {
		return // as thick every way, like a cube
	}
	if err != nil {
		a.degenerate(f, err)
		return
	}
	// Marks within a tenth of a millimetre of one plane: no hand measures a
	// body's thickness as less (the finest probe readings are good to that).
	const flat = 0.1
	if plane.Flatness() < flat {
		a.doubt(Doubt{Pos: f.Spec.Pos, Weight: 5, Says: fmt.Sprintf("all marks of %s lie in one plane: as a block it has no thickness; measure a mark on another of its sides", f.Spec.Name)})
	}
}

// length words a length; Needed rounds up.
func (a *adjuster) length(mm float64) string {
	return a.readings.Style.Print(length.Needed(mm))
}

func (a *adjuster) doubt(d Doubt) { a.space.Doubts = append(a.space.Doubts, d) }

// flats notes which readings the flats check.
func (a *adjuster) flats() {
	for i := range a.space.Features {
		f := &a.space.Features[i]
		if f.Plane == nil || len(f.Fitted) < 4 {
			continue
		}
		for j, m := range f.Fitted {
			redundancy := f.Plane.Redundancy(j)
			if redundancy < LeastRedundancy {
				continue
			}
			for _, row := range a.space.Marks[m].Rows {
				a.space.Rows[row].addFlat(a.space.inFile(f.Plane.Normal), redundancy, a.space.Uncertainty(m))
			}
		}
	}
}

// LeastRedundancy is from where on a reading counts as checked by others: an
// error in it shows by at least a tenth of its size.
const LeastRedundancy = 0.1

// standsOut doubts a mark that is out of its flat by v, which is more than chance:
// the critical value 3.29 is two-sided 0.001 (Baarda's test of one observation).
func (a *adjuster) standsOut(f *Feature, j int, v, u float64) {
	const critical = 3.2905
	if u == 0 || math.Abs(v) <= critical*u {
		return
	}
	mark := a.space.Marks[f.Fitted[j]]
	way := "proud of"
	if v < 0 {
		way = "behind"
	}
	a.doubt(Doubt{Pos: mark.Pos, Weight: math.Abs(v) / u, Says: fmt.Sprintf("%s stands %s the flat through all marks of %s by %s; its readings explain %s: a slip, or %s is not flat there", mark.Name, way, f.Spec.Name, a.length(math.Abs(v)), a.length(critical*u), f.Spec.Name)})
}

// repeats doubts readings of one mark that cannot all be true.
func (a *adjuster) repeats() {
	for m := range a.space.Marks {
		for axis := 0; axis < 3; axis++ {
			a.conflict(m, axis)
		}
	}
}

// datumMoved adds what it means where the mark of a file's first reading, taken
// again as its last, no longer agrees.
func (a *adjuster) datumMoved(last, first int) string {
	points := a.readings.Points
	p, q := points[last], points[first]
	if p.Pos.File != q.Pos.File ||
		(first > 0 && points[first-1].Pos.File == q.Pos.File) ||
		(last+1 < len(points) && points[last+1].Pos.File == p.Pos.File) {
		return ""
	}
	return "; it was read first and again last, so the datum may have moved between"
}

// conflict holds the spread of a mark's readings from one base against their
// limits: two readings whose limits do not meet cannot both be right.
func (a *adjuster) conflict(m, axis int) {
	rows := a.points[m]
	for k, i := range rows {
		for _, j := range rows[:k] {
			p, q := a.readings.Points[i], a.readings.Points[j]
			if p.Base != q.Base || !p.At[axis].Given || !q.At[axis].Given {
				continue
			}
			lo := math.Max(p.At[axis].Value-p.Limit.Minus, q.At[axis].Value-q.Limit.Minus)
			hi := math.Min(p.At[axis].Value+p.Limit.Plus, q.At[axis].Value+q.Limit.Plus)
			if lo <= hi+1e-6 { // the shop's limit of reaching, mm
				continue
			}
			apart := math.Abs(p.At[axis].Value - q.At[axis].Value)
			a.doubt(Doubt{
				Pos:    table.Pos{File: p.Pos.File, Line: p.Pos.Line, Column: p.At[axis].Pos.Column},
				Weight: 10 + apart/math.Max(1e-3, p.Limit.Half()+q.Limit.Half()),
				Says:   fmt.Sprintf("%s of %s reads %s here and %s on line %d: further apart than both readings' limits", axisName(axis), a.space.Marks[m].Name, p.At[axis].Text, q.At[axis].Text, q.Pos.Line) + a.datumMoved(i, j),
			})
			return
		}
	}
}
