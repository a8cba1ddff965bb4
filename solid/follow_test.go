package solid

import (
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/solid/shape"
)

// anyTank is a tank with a fitting anywhere on each side but the back, brackets
// all round, and nothing in anything's way.
func anyTank(seed uint64) Tank {
	rng := rand.New(rand.NewPCG(seed, 3))
	t := Tank{Size: Size{150 + 50*rng.Float64(), 120 + 50*rng.Float64(), 130 + 50*rng.Float64()}, Coat: 0.3}
	for _, side := range []Side{Top, Bottom, Left, Right, Front} {
		f := Fitting{
			Name: side.String(), Side: side,
			Stack:    []Element{{Name: "bung", Diameter: 16, Length: 20}, {Name: "barb", Diameter: 10, Length: 15}},
			KeepOpen: []KeepOpen{{Name: "hand", Diameter: 40, Length: 30}},
		}
		for k, axis := range side.Axes() {
			pair := ends(axis)
			f.At[k] = Offset{From: [3]Side{NoSide, pair[0], pair[1]}[rng.IntN(3)], By: 40 + 20*rng.Float64()}
			if f.At[k].From == NoSide {
				f.At[k].By -= 50
			}
		}
		if neighbour := ends(side.Axes()[rng.IntN(2)])[rng.IntN(2)]; rng.IntN(2) == 0 {
			f.Tilt = Tilt{By: s1.Angle(rng.Float64()), Toward: neighbour}
		}
		t.Fittings = append(t.Fittings, f)
	}
	w, h, d := t.Size.Width, t.Size.Height, t.Size.Depth
	t.Brackets = []Bracket{
		{Name: "left tab", Min: v(-15, 20, 0), Max: v(0, 40, 3)},
		{Name: "right tab", Min: v(w, 20, 0), Max: v(w+15, 40, 3)},
		{Name: "hook", Min: v(30, h+2, d), Max: v(50, h+10, d+5)},
	}
	return t
}

// The law of Follow and Share: what they say is where everything is when the tank
// is built again with each size larger by a millimetre.
func TestFollowIsWhatRebuildingMoves(t *testing.T) {
	for seed := uint64(0); seed < 40; seed++ {
		tank := anyTank(seed)
		before := build(t, tank)
		for axis := 0; axis < 3; axis++ {
			size := tank.Size.Vector().Add(Axis(axis))
			after := build(t, tank.Resized(Size{size.X, size.Y, size.Z}))
			require.Len(t, after.Parts, len(before.Parts))
			for i, p := range before.Parts {
				moves := func(at r3.Vector) r3.Vector { return Axis(axis).Mul(along(p.Share(at, tank.Size), axis)) }
				assertMoved(t, p, after.Parts[i], moves)
			}
			for i, p := range before.Ports {
				q := after.Ports[i]
				assert.Less(t, p.At.Add(Axis(axis).Mul(along(p.Follow, axis))).Distance(q.At), 1e-9)
				assert.Equal(t, p.Axis, q.Axis)
			}
		}
	}
}

func assertMoved(t *testing.T, p, q Part, moves func(at r3.Vector) r3.Vector) {
	t.Helper()
	switch s := p.Solid.(type) {
	case shape.Cylinder:
		w := q.Solid.(shape.Cylinder)
		assert.Less(t, s.Foot.Add(moves(s.Foot)).Distance(w.Foot), 1e-9, p.Name)
		assert.Equal(t, s.Axis, w.Axis, p.Name)
		assert.Equal(t, s.Across, w.Across, p.Name)
	case shape.Box:
		w := q.Solid.(shape.Box)
		for k := 0; k < 8; k++ {
			a, b := cornerOf(s, k), cornerOf(w, k)
			assert.Less(t, a.Add(moves(a)).Distance(b), 1e-9, p.Name)
		}
	default:
		require.Fail(t, "no such solid")
	}
}

func cornerOf(b shape.Box, k int) r3.Vector {
	at := b.Corner
	for e := range b.Edges {
		if k>>e&1 == 1 {
			at = at.Add(b.Edges[e])
		}
	}
	return at
}

// A copy of another size leaves the tank that it was made of as it was.
func TestResizedIsACopy(t *testing.T) {
	tank := anyTank(1)
	tank.Resized(Size{Width: 300, Height: 300, Depth: 300}).Fittings[0].Name = "x"
	assert.Equal(t, anyTank(1), tank)
	assert.Equal(t, tank, tank.Resized(tank.Size))
}
