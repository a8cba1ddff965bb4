package clearance

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"elbowroom/solid"
	"elbowroom/survey"
)

// around is a grid of sizes and places around a tank's own.
func around(t solid.Tank, rng *rand.Rand, n int) (list []Candidate) {
	for range n {
		k := Candidate{Size: t.Size, At: t.Place.At}
		k.Size.Width += 60 * (rng.Float64() - 0.7)
		k.Size.Height += 50 * (rng.Float64() - 0.6)
		k.Size.Depth += 50 * (rng.Float64() - 0.6)
		if rng.IntN(3) == 0 {
			k.At = k.At.Add(r2.Point{X: 20 * (rng.Float64() - 0.5), Y: 20 * (rng.Float64() - 0.5)})
		}
		list = append(list, k)
	}
	return list
}

// asChecked is Check's own answer to a candidate.
func asChecked(t *testing.T, s scene, space *survey.Space, k Candidate) (*Report, bool) {
	t.Helper()
	tank := s.tank.Resized(k.Size)
	tank.Place.At = k.At
	a, err := solid.Build(tank)
	if err != nil {
		return nil, false
	}
	rep, err := Check(context.Background(), space, a, s.rules)
	require.NoError(t, err)
	return rep, true
}

// agrees holds what is said of a candidate against Check.
func agrees(t *testing.T, z Sized, rep *Report, why string) {
	t.Helper()
	switch {
	case z.Left && z.MayClear:
		assert.Equal(t, Unproven, z.Verdict, why)
	case z.Left:
		assert.GreaterOrEqual(t, severity(rep.Verdict), severity(z.Verdict), why)
	case z.Open:
		assert.Contains(t, []Verdict{Clears, Unproven}, rep.Verdict, why)
		if rep.Verdict == Unproven {
			assert.Equal(t, []Because{Together}, rep.Because, why)
		}
	default:
		assert.Equal(t, rep.Verdict, z.Verdict, "%s: %v %v", why, rep.Because, z.Decides)
	}
	least, spare := math.Inf(1), math.Inf(1)
	for _, l := range rep.Lines {
		least, spare = math.Min(least, l.Clearance), math.Min(spare, l.Clearance-l.Gap)
	}
	// Where a way in is not looked for since it cannot clear, its line is missing.
	if z.Left || z.Verdict == Fouls || rep.WayIn != nil && z.Verdict != Clears {
		assert.LessOrEqual(t, least, z.Least.Clearance+1e-9, why)
		assert.LessOrEqual(t, spare, z.Spare.Spare()+1e-9, why)
	} else {
		assert.InDelta(t, least, z.Least.Clearance, 1e-9, why)
		assert.InDelta(t, spare, z.Spare.Spare(), 1e-9, why)
	}
	assert.InDelta(t, rep.Box.Capacity, z.CapacityL, 1e-12, why)
	const noise = 0.02 // of the draws: see stray
	switch z.SureIs {
	case "at least":
		assert.LessOrEqual(t, z.Sure, rep.Sure+noise, why)
	case "at most":
		assert.GreaterOrEqual(t, z.Sure, rep.Sure-noise, why)
	}
	if z.Verdict == Clears {
		assert.Equal(t, Decider{}, z.Decides, why)
	} else {
		assert.NotEqual(t, Decider{}, z.Decides, why)
	}
	if z.Verdict == Unproven && !z.Left {
		assert.Contains(t, rep.Because, z.Decides.Because, why)
	}
}

// settings are the jobs that candidates are held against Check in: strict ones,
// where sides, single readings and things unchecked keep all from clearing, and
// ones in which nothing but the lines counts.
func settings() map[string]scene {
	out := map[string]scene{}
	for seed := uint64(1); seed <= 3; seed++ {
		strict := crowd(seed)
		out[fmt.Sprint("strict ", seed)] = strict
		looked := crowd(seed)
		looked.rules.LookedAt, looked.rules.AcceptSingle = allSides, true
		looked.tank = looked.tank.Resized(solid.Size{Width: 150, Height: 62, Depth: 80})
		out[fmt.Sprint("with its hose ", seed)] = looked
		looked.rules.Hoses = nil
		out[fmt.Sprint("looked at ", seed)] = looked
		single := looked
		single.rules.AcceptSingle = false
		out[fmt.Sprint("single ", seed)] = single
		turned := looked
		turned.tank.Place.Turn = 0.05
		out[fmt.Sprint("turned ", seed)] = turned
	}
	measured := lone(v(130, 50, 50), 1)
	measured.rules.LookedAt, measured.rules.AcceptSingle = []solid.Side{solid.Front, solid.Back, solid.Top, solid.Bottom}, true
	measured.rules.SeenWithin, measured.rules.HiddenAtMost = 80, 120
	out["sides measured"] = measured
	unchecked := lone(v(140, 50, 50), 1)
	unchecked.rules.Unchecked = []Unchecked{{What: "levels", Kind: UncheckedFile}}
	out["unchecked"] = unchecked
	for name, s := range longOnes() {
		out[name] = s
	}
	return out
}

func TestSizesAgreeWithCheck(t *testing.T) {
	seen := map[string]int{}
	for name, s := range settings() {
		rng := rand.New(rand.NewPCG(uint64(len(name)), 41))
		n := 24
		if _, long := longOnes()[name]; long {
			n = 12
		}
		list := around(s.tank, rng, n)
		c := s.checker(t)
		out := CheckSizes(context.Background(), c.space, s.tank, s.rules, list, nil)
		require.Len(t, out.All, len(list), name)
		best := map[int]bool{}
		for _, i := range out.Best {
			best[i] = true
		}
		for i, z := range out.All {
			why := fmt.Sprintf("%s: %+v", name, z.Candidate)
			assert.Equal(t, list[i], z.Candidate, name)
			rep, ok := asChecked(t, s, c.space, z.Candidate)
			assert.Equal(t, ok, z.NoBox == nil, why)
			if !ok {
				seen["none"]++
				continue
			}
			seen[rep.Verdict.String()]++
			agrees(t, z, rep, why)
			if best[i] {
				assert.False(t, z.Open, why)
				if rep.WayIn == nil || z.Verdict == Clears { // else its line is missing
					assert.InDelta(t, rep.Sure, z.Sure, 2e-4, why) // a draw or two on the very limit
					assert.Equal(t, rep.SureIs, z.SureIs, why)
				}
			}
		}
	}
	for _, v := range []string{"clears", "unproven", "tight", "fouls", "none"} {
		assert.Positive(t, seen[v], "%s: none was tried", v)
	}
}

// What judge draws must lie in the range that was said beforehand, and what is
// found of the rivals in the bounds that stood for them.
func TestRangesHoldWhatIsDrawn(t *testing.T) {
	drawn, rivals := 0, 0
	for seed := uint64(0); seed < 60; seed++ {
		s := crowd(seed)
		// Gaps at about where the lines are, so that rivals count.
		s.rules.Gaps = map[string]float64{"fixed": float64(seed), "hose": 2 * float64(seed)}
		c := s.checker(t)
		z := newSizer(c.space, s.tank, s.rules.withDefaults())
		st := z.stand(c.assembly)
		z.draft(st)
		for _, g := range st.drafts {
			if g.o == nil {
				continue
			}
			if g.bare {
				st.first(g)
			}
			rough := *g
			st.c.findRivals(&g.draft, g.thing, g.o, g.which, g.nearest)
			found := append(append([]figure{}, g.rivals...), g.rest...)
			assert.LessOrEqual(t, len(found), g.unfound.most)
			for _, f := range found {
				rivals++
				assert.GreaterOrEqual(t, f.value, g.unfound.value-1e-9)
				assert.LessOrEqual(t, f.u, g.unfound.u+1e-9, g.line.Feature)
			}
			for _, limit := range []float64{0, g.line.Gap, g.main.value - 2*g.main.u} {
				assert.GreaterOrEqual(t, rough.unfound.risk(limit), math.Min(1, chance(found, limit))-1e-12)
			}
			g.o = nil
			g.grade(z.rules)
			assert.LessOrEqual(t, severity(rough.best), severity(g.best), "the milder end was no end")
			assert.GreaterOrEqual(t, severity(rough.worst), severity(g.worst), "the other end was no end")
		}
		drafts := make([]draft, len(st.drafts))
		for i, g := range st.drafts {
			drafts[i] = g.draft
		}
		st.c.judge(drafts)
		for i, g := range st.drafts {
			l := drafts[i].line
			name := l.Part + " against " + l.Feature
			if g.atMost.lo < g.atMost.hi {
				drawn++
			}
			within(t, g.sure, l.Sure, name)
			within(t, g.atMost, drafts[i].sureAtMost, name)
			within(t, g.notTouching, l.NotTouching, name)
			if g.together() {
				within(t, chances{g.product(l.Gap) - stray(g.product(l.Gap)), 1}, drafts[i].sureAtMost, name)
			}
		}
	}
	assert.Greater(t, drawn, 20)
	assert.Greater(t, rivals, 100)
}

func within(t *testing.T, c chances, p float64, why string) {
	t.Helper()
	assert.GreaterOrEqual(t, p, c.lo-1e-12, why)
	assert.LessOrEqual(t, p, c.hi+1e-12, why)
}

// The best trades are those that no other beats, tried pair by pair.
func TestBestAgainstPairs(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		o := Sizes{Known: true}
		for range rng.IntN(30) {
			z := Sized{Verdict: Verdict(rng.IntN(4)), Lines: true, CapacityL: float64(rng.IntN(6))}
			z.Open = z.Verdict == Unproven && rng.IntN(4) == 0
			z.Spare.Clearance = float64(rng.IntN(6))
			o.All = append(o.All, z)
		}
		want := map[int]bool{}
		for i := range o.All {
			want[i] = severity(o.All[i].Verdict) <= severity(Unproven)
			for k := range o.All {
				if severity(o.All[k].Verdict) <= severity(Unproven) && beats(o.merit(k), o.merit(i)) {
					want[i] = false
				}
			}
		}
		got := map[int]bool{}
		last := -1.0
		for _, i := range o.front(func(int) bool { return false }) {
			got[i] = true
			assert.GreaterOrEqual(t, o.All[i].CapacityL, last)
			last = o.All[i].CapacityL
		}
		for i := range o.All {
			assert.Equal(t, want[i], got[i], "%d of %+v", i, o.All)
		}
	}
}

func beats(a, b merit) bool {
	asGood := (a.clears || !b.clears) && a.volume >= b.volume && a.spare >= b.spare
	return asGood && (a.clears != b.clears || a.volume > b.volume || a.spare > b.spare)
}

// Stopped, it gives what was done by then, as it would have been.
func TestSizesStop(t *testing.T) {
	s := crowd(1)
	c := s.checker(t)
	list := around(s.tank, rand.New(rand.NewPCG(1, 2)), 200)
	whole := CheckSizes(context.Background(), c.space, s.tank, s.rules, list, nil)
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	last := 0
	part := CheckSizes(ctx, c.space, s.tank, s.rules, list, func(n int) {
		assert.Greater(t, n, last)
		if last = n; n >= 40 {
			cancel()
		}
	})
	assert.Equal(t, 200, part.Asked)
	assert.GreaterOrEqual(t, len(part.All), 40)
	assert.Less(t, len(part.All), 200)
	of := map[Candidate]Sized{}
	for _, z := range whole.All {
		of[z.Candidate] = z
	}
	for _, z := range part.All {
		assert.Equal(t, of[z.Candidate].NoBox == nil, z.NoBox == nil)
		if z.NoBox == nil && !of[z.Candidate].Open && !z.Open {
			assert.Equal(t, of[z.Candidate].Verdict, z.Verdict)
		}
	}
	cancel()
	none := CheckSizes(ctx, c.space, s.tank, s.rules, list, nil)
	assert.Empty(t, none.All)
	assert.Empty(t, none.Best)
}

// The same candidates give the same answer, whichever goroutine takes them, and
// however often the scratch space was used before.
func TestSizesRepeat(t *testing.T) {
	s := settings()["looked at 2"]
	c := s.checker(t)
	list := around(s.tank, rand.New(rand.NewPCG(7, 8)), 120)
	first := CheckSizes(context.Background(), c.space, s.tank, s.rules, list, nil)
	assert.Equal(t, first, CheckSizes(context.Background(), c.space, s.tank, s.rules, list, nil))
	assert.Empty(t, CheckSizes(context.Background(), c.space, s.tank, s.rules, nil, nil).All)
}

// Terms by units are those of the spreader.
func TestUnits(t *testing.T) {
	c := crowd(2).checker(t)
	u := units{}
	rng := rand.New(rand.NewPCG(3, 4))
	for range 50 {
		var g survey.Gradient
		for range 1 + rng.IntN(4) {
			g = append(g, survey.Pull{Mark: rng.IntN(len(c.space.Marks)), By: v(rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64())})
		}
		want := c.newFigure(0, g)
		c.units = u
		got := c.newFigure(0, g)
		c.units = nil
		assert.InDelta(t, want.u, got.u, 1e-12)
		assert.InDelta(t, want.u*want.u, survey.Dot(want.terms, got.terms), 1e-12)
	}
}

// Without a sheet the outside volume is traded.
func TestSizesWithoutSheet(t *testing.T) {
	s := lone(v(180, 50, 50), 1)
	c := s.checker(t)
	list := []Candidate{
		{Size: solid.Size{Width: 100, Height: 100, Depth: 100}},
		{Size: solid.Size{Width: 110, Height: 100, Depth: 100}},
		{Size: solid.Size{Width: 100, Height: 90, Depth: 100}},
	}
	out := CheckSizes(context.Background(), c.space, s.tank, s.rules, list, nil)
	assert.False(t, out.Known)
	assert.Equal(t, []int{0, 1}, out.Best)
	assert.Equal(t, 3, out.Count(Clears))
}
