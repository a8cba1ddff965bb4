package cli

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"elbowroom/clearance"
	"elbowroom/cmd/internal/job"
	"elbowroom/solid"
	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// mostCandidates is how many sizes are taken at most: each is about a fifth of a
// kilobyte while the run lasts.
const mostCandidates = 4_000_000

// candidates are all sizes and places that the flags make, places first; what a
// flag leaves out is as in the job. The error is table.Problems.
func (o *whatifOptions) candidates(j *job.Job) ([]clearance.Candidate, error) {
	var wrong table.Problems
	size, place := j.Tank.Size, j.Tank.Place.At
	widths := lengths(o.width, "--width", j.Unit, size.Width, &wrong)
	heights := lengths(o.height, "--height", j.Unit, size.Height, &wrong)
	depths := lengths(o.depth, "--depth", j.Unit, size.Depth, &wrong)
	places := places(o.at, j.Unit, place, &wrong)
	if len(wrong) > 0 {
		return nil, wrong
	}
	n := float64(len(widths)) * float64(len(heights)) * float64(len(depths)) * float64(len(places))
	if n > mostCandidates {
		return nil, &mistake{says: fmt.Sprintf("that makes %.0f sizes, and %d are the most; take larger steps, or less at a time", n, mostCandidates)}
	}
	list := make([]clearance.Candidate, 0, int(n))
	for _, at := range places {
		for _, w := range widths {
			for _, h := range heights {
				for _, d := range depths {
					list = append(list, clearance.Candidate{Size: solid.Size{Width: w, Height: h, Depth: d}, At: at})
				}
			}
		}
	}
	return list, nil
}

// lengths are those of a flag for a size: each piece between commas is one length
// or several.
func lengths(f texts, flag string, unit length.Unit, usual float64, wrong *table.Problems) []float64 {
	if len(f.list) == 0 {
		return []float64{usual}
	}
	var out []float64
	for _, piece := range strings.Split(strings.Join(f.list, ","), ",") {
		list := steps(piece, flag, unit, wrong)
		for _, mm := range list {
			if mm <= 0 {
				wrong.Add(&table.Problem{Field: flag, What: table.Quote(piece) + " goes to 0 or less", Mend: "write sizes of more than 0"})
				break
			}
		}
		out = append(out, list...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// places are those of --at: two pieces, right and up, each one length or several.
func places(f texts, unit length.Unit, usual r2.Point, wrong *table.Problems) []r2.Point {
	if len(f.list) == 0 {
		return []r2.Point{usual}
	}
	var out []r2.Point
	for _, text := range f.list {
		pieces := strings.Split(text, ",")
		if len(pieces) != 2 {
			wrong.Add(&table.Problem{Field: "--at", What: table.Quote(text) + " is not two lengths", Mend: `write right and up with a comma between, as in "2 1/4, 1" or "2..3:1/4, 1"; for more places give --at again`})
			continue
		}
		right, up := steps(pieces[0], "--at", unit, wrong), steps(pieces[1], "--at", unit, wrong)
		for _, x := range right {
			for _, y := range up {
				out = append(out, r2.Point{X: x, Y: y})
			}
		}
	}
	return out
}

func steps(piece, flag string, unit length.Unit, wrong *table.Problems) []float64 {
	list, err := length.ParseSteps(piece, unit)
	var m *length.Mistake
	if errors.As(err, &m) {
		wrong.Add(&table.Problem{Field: flag, Value: piece, What: m.What, Mend: m.Mend})
	}
	return list
}
