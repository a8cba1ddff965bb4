package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/r3"
	"github.com/spf13/cobra"

	"elbowroom/clearance/largest"
	"elbowroom/clearance/report"
	"elbowroom/cmd/internal/job"
	"elbowroom/solid"
	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

const largestUsage = "elbowroom largest JOB [--bare] [--outside] [--min width=7] [--max depth=4] [--hold height=5] [--aspect 2:1:1] [--room x=0..12] [--step 1/16] [--stand-off 1/4..1] [--turn -15..15] [--top N] [--capacity 3l [--shallow|--short|--narrow]] [--effort N] [--json] [-o FILE] [--inches 32|64|decimal] [--without FILE:LINE]"

// largestOptions is what largest can be asked.
type largestOptions struct {
	asked
	bare, outside          bool
	shallow, short, narrow bool
	min, max, hold, room   []string
	aspect, turn, capacity string
	standOff               string
	step                   length.Flag
	top                    int
	effort                 float64
}

func newLargestCmd(a *app) *cobra.Command {
	var o largestOptions
	cmd := &cobra.Command{
		Use: "largest",
		RunE: func(cmd *cobra.Command, args []string) error {
			path, err := oneJob(args, "largest", largestUsage)
			if err != nil {
				return err
			}
			return a.runLargest(cmd.Context(), path, o)
		},
	}
	o.asked.flags(cmd, largestUsage)
	f := cmd.Flags()
	f.BoolVar(&o.bare, "bare", false, "")
	f.BoolVar(&o.outside, "outside", false, "")
	f.BoolVar(&o.shallow, "shallow", false, "")
	f.BoolVar(&o.short, "short", false, "")
	f.BoolVar(&o.narrow, "narrow", false, "")
	f.StringArrayVar(&o.min, "min", nil, "")
	f.StringArrayVar(&o.max, "max", nil, "")
	f.StringArrayVar(&o.hold, "hold", nil, "")
	f.StringArrayVar(&o.room, "room", nil, "")
	f.StringVar(&o.aspect, "aspect", "", "")
	f.StringVar(&o.turn, "turn", "", "")
	f.StringVar(&o.standOff, "stand-off", "", "")
	f.StringVar(&o.capacity, "capacity", "", "")
	f.Var(&o.step, "step", "")
	f.IntVar(&o.top, "top", 1, "")
	f.Float64Var(&o.effort, "effort", 1, "")
	return cmd
}

func (a *app) runLargest(ctx context.Context, path string, o largestOptions) error {
	j, style, err := o.open(path, largestUsage)
	if err != nil {
		return err
	}
	limits, err := o.limits(j)
	if err != nil {
		return err
	}
	space, _, err := build(j, style)
	if err != nil {
		return err
	}
	if ctx == nil {
		ctx = context.Background()
	}
	answer, err := largest.Solve(ctx, space, j.Tank, j.Rules, limits)
	var open *largest.Open
	switch {
	case errors.As(err, &open):
		return &mistake{says: openSides(open.Sides)}
	case errors.Is(err, largest.ErrNone): // an answer too
	case err != nil:
		return err
	}
	a.code = exitNo
	if answer.Proven != nil {
		a.code = exitYes
	}
	return a.deliver(j, o.asked, report.LargestHeadline(answer), func(w io.Writer) error {
		if o.json {
			return report.LargestJSON(w, answer)
		}
		return report.LargestText(w, answer, report.Options{Style: style, Up: j.Up, Bold: a.bold() && !o.output.given})
	})
}

// openSides words that nothing bounds the box.
func openSides(sides []solid.Side) string {
	var says []string
	for _, s := range sides {
		axis := "xyz"[s.Axis() : s.Axis()+1]
		says = append(says, fmt.Sprintf("nothing measured on the %s: measure it, or give room.%s", s, axis))
	}
	return strings.Join(says, "; ")
}

// limits reads the flags, in the job's unit.
func (o *largestOptions) limits(j *job.Job) (largest.Limits, error) {
	l := largest.Limits{Bare: o.bare, Outside: o.outside, Top: o.top, Effort: o.effort, Worth: true}
	for a := range 3 {
		if r := j.Later.Room[a]; r.Given {
			l.Room[a] = largest.Range{From: r.From, To: r.To, Given: true}
		}
	}
	r := flagReader{unit: j.Unit}
	r.sizes("--min", o.min, &l.Min)
	r.sizes("--max", o.max, &l.Max)
	var held solid.Size
	r.sizes("--hold", o.hold, &held)
	hold(held, &l.Min, &l.Max)
	for _, text := range o.room {
		r.room(text, &l.Room)
	}
	if o.standOff != "" {
		l.StandOff = r.span("--stand-off", o.standOff, r.length)
	}
	if o.turn != "" {
		l.Turn = r.span("--turn", o.turn, r.angle)
	}
	if o.aspect != "" {
		l.Aspect = r.aspect(o.aspect)
	}
	if o.step.Given() {
		l.Step, _ = r.length("--step", o.step.String())
		r.must(l.Step > 0, "--step", o.step.String(), "a length over 0, as in 1/16")
	}
	if o.capacity != "" {
		l.Capacity = r.litres(o.capacity)
	}
	l.Least = r.least(o)
	r.must(o.top >= 1 && o.top <= 50, "--top", strconv.Itoa(o.top), "how many boxes, from 1 to 50")
	r.must(o.effort > 0, "--effort", fmt.Sprint(o.effort), "how many times the usual work, as in 4")
	return l, r.wrong.Err()
}

// hold makes a size's least and greatest the same.
func hold(held solid.Size, least, most *solid.Size) {
	for _, s := range [][3]*float64{{&held.Width, &least.Width, &most.Width}, {&held.Height, &least.Height, &most.Height}, {&held.Depth, &least.Depth, &most.Depth}} {
		if *s[0] > 0 {
			*s[1], *s[2] = *s[0], *s[0]
		}
	}
}

// flagReader reads the values of flags and keeps every complaint.
type flagReader struct {
	unit  length.Unit
	wrong table.Problems
}

func (r *flagReader) must(ok bool, flag, text, write string) {
	if !ok {
		r.wrong.Add(&table.Problem{Field: flag, What: "it cannot be " + table.Quote(text), Mend: "write " + write})
	}
}

func (r *flagReader) length(flag, text string) (float64, bool) {
	mm, err := length.Parse(text, r.unit, false)
	r.must(err == nil, flag, text, "a length, as in 7 1/2 or 190mm")
	return mm, err == nil
}

func (r *flagReader) angle(flag, text string) (float64, bool) {
	degrees, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "deg")), 64)
	ok := err == nil && degrees >= -90 && degrees <= 90
	r.must(ok, flag, text, "an angle from -90 to 90 degrees, as in -15deg..15deg")
	return degrees / 180 * math.Pi, ok
}

// span reads one value, or two with .. between them.
func (r *flagReader) span(flag, text string, read func(flag, text string) (float64, bool)) largest.Range {
	from, to, two := strings.Cut(text, "..")
	if !two {
		to = from
	}
	a, okA := read(flag, from)
	b, okB := read(flag, to)
	r.must(!okA || !okB || a <= b, flag, text, "the lower of the two first")
	return largest.Range{From: a, To: b, Given: okA && okB}
}

// sizes reads width=7 and the like.
func (r *flagReader) sizes(flag string, texts []string, to *solid.Size) {
	for _, text := range texts {
		name, value, ok := strings.Cut(text, "=")
		at, known := map[string]*float64{"width": &to.Width, "height": &to.Height, "depth": &to.Depth}[strings.ToLower(strings.TrimSpace(name))]
		r.must(ok && known, flag, text, "a size, as in width=7 1/2; the sizes are width, height and depth")
		if !ok || !known {
			continue
		}
		mm, good := r.length(flag, value)
		r.must(!good || mm > 0, flag, text, "a length over 0")
		*at = mm
	}
}

// room reads x=0..12.
func (r *flagReader) room(text string, to *[3]largest.Range) {
	name, value, ok := strings.Cut(text, "=")
	axis := strings.Index("xyz", strings.ToLower(strings.TrimSpace(name)))
	good := ok && axis >= 0 && len(strings.TrimSpace(name)) == 1 && strings.Contains(value, "..")
	r.must(good, "--room", text, "a range along x, y or z, as in x=0..12")
	if good {
		to[axis] = r.span("--room", value, r.length)
	}
}

func (r *flagReader) aspect(text string) (v r3.Vector) {
	parts := strings.Split(text, ":")
	var x [3]float64
	ok := len(parts) == 3
	for i := 0; ok && i < 3; i++ {
		f, err := strconv.ParseFloat(strings.TrimSpace(parts[i]), 64)
		x[i], ok = f, err == nil && f > 0 && f < 1000
	}
	r.must(ok, "--aspect", text, "width to height to depth, as in 2:1:1")
	if !ok {
		return v
	}
	return r3.Vector{X: x[0], Y: x[1], Z: x[2]}
}

func (r *flagReader) litres(text string) float64 {
	x, ok := job.Litres(text)
	r.must(ok && x > 0, "--capacity", text, "a volume over 0 with its unit, as in 3l; ml, gal (US) and qt (US) will do too")
	return x
}

func (r *flagReader) least(o *largestOptions) (l largest.Least) {
	n := 0
	for _, c := range []struct {
		given bool
		is    largest.Least
	}{{o.shallow, largest.Shallow}, {o.short, largest.Short}, {o.narrow, largest.Narrow}} {
		if c.given {
			l = c.is
			n++
		}
	}
	if n > 1 || n == 1 && o.capacity == "" {
		r.wrong.Add(&table.Problem{Field: "--capacity", What: "--shallow, --short and --narrow go with it, one at a time", Mend: "say how much the box is to hold"})
	}
	return l
}
