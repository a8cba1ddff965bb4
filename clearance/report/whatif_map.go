package report

import (
	"fmt"
	"math"

	"elbowroom/clearance"
	"elbowroom/survey/length"
)

// dimension is something that was varied.
type dimension struct {
	name   string
	of     func(z *clearance.Sized) float64
	values []float64
}

// dimensions are all that can be varied, those with the most values first; of as
// many, as they are listed.
func dimensions(s *clearance.Sizes) []dimension {
	all := []dimension{
		{name: "width", of: func(z *clearance.Sized) float64 { return z.Size.Width }},
		{name: "height", of: func(z *clearance.Sized) float64 { return z.Size.Height }},
		{name: "depth", of: func(z *clearance.Sized) float64 { return z.Size.Depth }},
		{name: "place to the right", of: func(z *clearance.Sized) float64 { return z.At.X }},
		{name: "place up", of: func(z *clearance.Sized) float64 { return z.At.Y }},
	}
	for i := range all {
		all[i].values = distinctOf(s, all[i].of)
	}
	return all
}

// axesOf chooses the two dimensions with the most values, in the order in which
// they are listed.
func axesOf(all []dimension) (x, y int) {
	first, second := 0, 1
	if len(all[second].values) > len(all[first].values) {
		first, second = second, first
	}
	for i := 2; i < len(all); i++ {
		switch n := len(all[i].values); {
		case n > len(all[first].values):
			first, second = i, first
		case n > len(all[second].values):
			second = i
		}
	}
	return min(first, second), max(first, second)
}

// verdicts draws the map: for each value of two dimensions the best verdict over
// all others.
func (d *drawing) verdicts(p panel) {
	all := dimensions(d.s)
	ix, iy := axesOf(all)
	x, y := all[ix], all[iy]
	best := d.bestVerdicts(x, y)
	nx, ny := len(x.values), len(y.values)
	if nx == 0 || ny == 0 {
		return
	}
	w, h := p.width/float64(nx), p.height/float64(ny)
	const legible = 15
	everyX, everyY := int(math.Ceil(legible/w)), int(math.Ceil(legible/h))
	cells := func(do func(i, k int, l looks, left, top float64)) {
		for i := range nx {
			for k := range ny {
				if l, ok := best[[2]int{i, k}]; ok {
					do(i, k, l, p.left+float64(i)*w, p.bottom()-float64(k+1)*h)
				}
			}
		}
	}
	d.raw(`<g shape-rendering="crispEdges">`)
	cells(func(_, _ int, l looks, left, top float64) { d.rect(left, top, w, h, l.shade) })
	d.raw("</g>")
	r := math.Min(math.Min(w*float64(everyX), h*float64(everyY))/2-1.5, 9)
	cells(func(i, k int, l looks, left, top float64) {
		x, y := left+w/2, top+h/2
		inside := x-r > p.left && x+r < p.right() && y-r > p.top && y+r < p.bottom()
		if i%everyX == everyX/2 && k%everyY == everyY/2 && inside {
			d.sign(l, x, y, r)
		}
	})
	d.mapAxes(p, x, y)
	d.text(p.left+p.width/2, p.top-6, lettering{size: 11, anchor: atMiddle}, d.mapHead(all, ix, iy))
}

// bestVerdicts finds the best verdict of each cell.
func (d *drawing) bestVerdicts(x, y dimension) map[[2]int]looks {
	rank := map[looks]int{}
	for i, l := range allLooks() {
		rank[l] = i
	}
	column, row := indexOf(x.values), indexOf(y.values)
	out := map[[2]int]looks{}
	for i := range d.s.All {
		z := &d.s.All[i]
		cell := [2]int{column[x.of(z)], row[y.of(z)]}
		l := looksOf(z)
		if was, ok := out[cell]; !ok || rank[l] < rank[was] {
			out[cell] = l
		}
	}
	return out
}

func indexOf(values []float64) map[float64]int {
	out := map[float64]int{}
	for i, v := range values {
		out[v] = i
	}
	return out
}

// mapAxes draws the frame and the values, as many as there is room for.
func (d *drawing) mapAxes(p panel, x, y dimension) {
	d.raw(`<rect x="%s" y="%s" width="%s" height="%s" fill="none" stroke="%s" stroke-width="1"/>`, num(p.left), num(p.top), num(p.width), num(p.height), ink)
	print := func(v float64) string { return plainBlanks(d.style.Bare(length.Needed(v))) }
	widest := 0.0
	for _, v := range x.values {
		widest = math.Max(widest, lettersWide(print(v), 11.5))
	}
	w := p.width / float64(len(x.values))
	for i := 0; i < len(x.values); i += stride((widest+8)/w, len(x.values)) {
		d.text(p.left+(float64(i)+0.5)*w, p.bottom()+17, lettering{size: 11.5, anchor: atMiddle}, print(x.values[i]))
	}
	h := p.height / float64(len(y.values))
	for k := 0; k < len(y.values); k += stride(16/h, len(y.values)) {
		d.text(p.left-7, p.bottom()-(float64(k)+0.5)*h+4, lettering{size: 11.5, anchor: toEnd}, print(y.values[k]))
	}
	d.text(p.left+p.width/2, p.bottom()+38, lettering{size: 12.5, anchor: atMiddle}, x.name+", "+unitWord(d.style.Unit))
	d.text(p.left-66, p.top+p.height/2, lettering{size: 12.5, anchor: atMiddle, upward: true}, y.name+", "+unitWord(d.style.Unit))
}

// stride is how many values to go on from one that is written to the next: that
// many take up the room, and of those that end evenly the next.
func stride(room float64, n int) int {
	least := max(1, int(math.Ceil(room)))
	for _, s := range [10]int{1, 2, 4, 5, 8, 10, 16, 20, 25, 40} {
		if s >= least {
			return s
		}
	}
	return max(least, n/8)
}

// mapHead says what a cell shows.
func (d *drawing) mapHead(all []dimension, ix, iy int) string {
	var fixed, over []string
	for i, dim := range all {
		switch {
		case i == ix || i == iy:
		case len(dim.values) > 1:
			over = append(over, dim.name)
		case i < 3 && len(dim.values) == 1:
			fixed = append(fixed, fmt.Sprintf("%s %s", dim.name, plainBlanks(d.style.Print(length.Needed(dim.values[0])))))
		}
	}
	text := "verdict"
	if len(over) > 0 {
		text = "the best verdict over every " + plainBlanks(list(over, len(over)))
	}
	if len(fixed) > 0 {
		text += " at " + plainBlanks(list(fixed, len(fixed)))
	}
	return text
}
