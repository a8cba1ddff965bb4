package mesh

import (
	"math"

	"elbowroom/survey/network"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
)

// Surface is a skin: triangles through marks, and what to doubt in them. Marks
// and triangles are named by index, from 0. The zero Surface has none.
type Surface struct {
	// Triangles hold three marks each, counter-clockwise seen from the side that
	// Plane.Normal points to, in rising order.
	Triangles [][3]int

	// Plane is the plane that fits the marks best. The marks were joined as they
	// lie when looked at square to it.
	Plane network.Plane

	// LeftOut lists marks that no triangle has, because an earlier mark is in
	// exactly the same place when looked at square to Plane. Where every mark
	// must count as solid, these have to be added on their own.
	LeftOut []Hidden

	// Steep lists triangles that stand steeper than Steepest to Plane.
	Steep []Steep

	// Trimmed lists triangles that Delaunay's rule gives and Skin leaves out:
	// steep ones that close the rim past a mark that is almost on it.
	Trimmed [][3]int
}

// Hidden is a mark that lies straight over or under an earlier one. Rise is how
// far above it the mark is, along Plane.Normal (mm); 0 where both are the same
// place.
type Hidden struct {
	Mark, Under int
	Rise        float64
}

// Steep is a doubtful triangle: its index in Triangles, its slope to the plane,
// and its width (mm), the least of its three heights. Where the width is within
// the uncertainty of the marks they are as good as on one line, and the slope
// means nothing.
type Steep struct {
	Triangle int
	Slope    s1.Angle
	Width    float64
}

// Steepest is the greatest slope of a triangle that is not doubted. At 70
// degrees a length down the slope is seen at a third of its size (cos 70° =
// 0.34), so that marks that look next to each other need not be neighbours on
// the surface, and a mark that is 1 mm out sideways is 2.7 mm out in height
// (tan 70°). Common practice, no source.
const Steepest = 70 * s1.Degree

// Skin joins marks into a surface: fits a plane, looks square to it, and joins
// the marks by Delaunay's rule as they are seen. u holds the marks' standard
// uncertainties for the fit (mm), nil where they are alike.
//
// That is right for a surface that no line square to the plane meets twice. Skin
// cannot know whether the real one is so: Doubtful says whether the marks speak
// against it, and no doubt is no proof. Under a lip whose marks are well apart
// the triangles join the wrong marks, and none need be steep.
//
// The error is one of network.FitPlane's.
func Skin(marks []r3.Vector, u []float64) (Surface, error) {
	plane, err := network.FitPlane(marks, u)
	if err != nil {
		return Surface{}, err
	}
	v := view{marks, make([]r2.Point, len(marks)), plane}
	for i, m := range marks {
		d := m.Sub(plane.Centre)
		v.seen[i] = r2.Point{X: d.Dot(plane.S), Y: d.Dot(plane.T)}
	}
	triangles, err := Delaunay(v.seen)
	if err != nil {
		return Surface{}, err
	}
	s := Surface{Plane: plane}
	s.Triangles, s.Trimmed = v.trim(triangles)
	for i, first := range SamePlace(v.seen) {
		if first != i {
			s.LeftOut = append(s.LeftOut, Hidden{i, first, plane.Residuals[i] - plane.Residuals[first]})
		}
	}
	for k, t := range s.Triangles {
		if slope, width := v.stand(t); slope > Steepest {
			s.Steep = append(s.Steep, Steep{k, slope, width})
		}
	}
	return s, nil
}

// Doubtful says that the marks speak against a surface that is seen whole from
// the side of Plane.Normal.
func (s Surface) Doubtful() bool {
	for _, h := range s.LeftOut {
		if h.Rise != 0 {
			return true
		}
	}
	return len(s.Steep) > 0
}

// view is the marks, and where they are seen when looked at square to a plane.
type view struct {
	marks []r3.Vector
	seen  []r2.Point
	plane network.Plane
}

// stand is the slope of a triangle to the plane, and its least height.
func (v view) stand(t [3]int) (slope s1.Angle, width float64) {
	a, b, c := v.marks[t[0]], v.marks[t[1]], v.marks[t[2]]
	normal := b.Sub(a).Cross(c.Sub(a))
	across := normal.Cross(v.plane.Normal).Norm()
	longest := max(b.Distance(a), c.Distance(b), a.Distance(c))
	slope = s1.Angle(math.Atan2(across, math.Abs(normal.Dot(v.plane.Normal))))
	return slope, normal.Norm() / longest
}
