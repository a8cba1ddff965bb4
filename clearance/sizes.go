package clearance

import (
	"context"
	"runtime"
	"sync"

	"github.com/golang/geo/r2"

	"elbowroom/solid"
	"elbowroom/survey"
	"elbowroom/survey/length"
)

// Candidate is an outside size of the box, and where its lower left corner is to
// be on the face, from the datum, mm.
type Candidate struct {
	Size solid.Size
	At   r2.Point
}

// Sized is what there is to say of a candidate.
type Sized struct {
	Candidate
	// NoBox is why no box of that size can be made, as where a fitting hangs over
	// its edge; nil where one can. What follows then means nothing.
	NoBox *solid.Problem
	// Verdict is what Check says of the tank at that size, but where Open.
	Verdict Verdict
	// Sure is the joint probability that every line holds: a bound, as SureIs
	// says ("at least" or "at most"), but "about" where all was drawn together.
	Sure   float64
	SureIs string
	// Open says that Check may say something else: each line alone is sure enough,
	// the bounds do not say whether all are together, and this was not drawn (the
	// verdict is then Unproven); or it is Left. See Sizes.Best.
	Open bool
	// Left says that it was not held against what Sizes.NotHeld lists. The verdict is
	// then Unproven where all else clears, and else that of all else: Check's is no
	// milder. MayClear says that all that was looked at clears.
	Left, MayClear bool
	// Least is the line with the least clearance, and Spare the one with the
	// least room to spare: clearance less gap. See Lines. Of one that is Left, or
	// fouls, they are no less than over all lines.
	Least, Spare Narrow
	// Lines is false where nothing is held against anything.
	Lines bool
	// CapacityL is in litres; see Sizes.Known.
	CapacityL float64
	// Decides is what the verdict comes from, or of several the worst; zero where
	// it clears.
	Decides Decider
}

// Decider is a line, a hose's bends, a side, a level, the way in or something
// unchecked that gives a size its verdict.
type Decider struct {
	Line    Pair       // zero: none
	When    string     // of the line: a motion, "way in"; blank or "at rest"
	Hose    string     // blank: none
	Side    solid.Side // NoSide: none
	Level   string     // "fill", "outlet" or "head room"; blank: none
	WayIn   bool       // that no way in was found, or where it leads
	Because Because    // of what is unproven
}

// Narrow is a line by what it keeps, mm.
type Narrow struct {
	Part, Feature  string
	Clearance, Gap float64
}

// Spare is the room to spare: negative where the gap is not kept.
func (n Narrow) Spare() float64 { return n.Clearance - n.Gap }

// Sizes is the answer to many candidates.
type Sizes struct {
	Title  string
	Unit   length.Unit
	Wanted float64 // the job's sure
	// Known is false where no sheet is given, and so no capacity. The outside
	// volume then takes its place in Best.
	Known bool
	// All are the candidates that were checked, in the order in which they were
	// asked for, and Asked is how many were: more where the work was stopped.
	All   []Sized
	Asked int
	// Best are indices into All, least capacity first: the best trades of those
	// that can be made and of which no line fouls or is tight. No other is as
	// good as one of them in verdict, capacity and room to spare, and better in
	// one. All of these are as Check says, held against everything and with their
	// joint probability drawn where that decides.
	Best []int
	// NotHeld is what those that are Left were not held against. Some says that
	// Best is of those alone that are not, since too many might have been better.
	NotHeld []NotHeld
	Some    bool
	// Unchecked is what nobody checked. While there is any, no size clears.
	Unchecked []Unchecked
}

// NotHeld is something that takes too long to hold every one of many sizes against.
type NotHeld int

// What takes long, in the order in which it is listed.
const (
	BodyInMotions  NotHeld = iota // the body against what moves
	RoomToTurn                    // room for tools that may come from several sides
	HosesToBeFound                // hoses without a run of their own
	LiquidLevels
	TheWayIn
)

// CheckSizes holds a space against a tank at many sizes and places: all that is
// fixed to it stays with the sides that it stands on (see solid.Tank.Resized).
// For each it is Check's answer, with the joint probability by its bounds; it is
// drawn only for the best trades. Where the job asks for what takes long (NotHeld),
// that is looked at for the best trades, and for all where there are no more than
// mostInFull; the others are Left.
//
// done, unless nil, is told now and then how many are checked; not from two
// goroutines at once. When ctx is done the work stops, and what is checked by
// then is the answer.
func CheckSizes(ctx context.Context, s *survey.Space, t solid.Tank, r Rules, list []Candidate, done func(n int)) *Sizes {
	r = r.withDefaults()
	out := &Sizes{Title: r.Title, Unit: r.Unit, Wanted: r.Sure, Known: t.Sheet > 0, Asked: len(list)}
	all, checked := make([]Sized, len(list)), make([]bool, len(list))
	var mutex sync.Mutex
	sum := 0
	atATime := atATime(len(list))
	pool := &sizers{start: func() *sizer { return newSizer(s, t, r) }}
	// Each keeps much; no more of them than run at once.
	inParallelBy(min(workers, runtime.GOMAXPROCS(0)), (len(list)+atATime-1)/atATime, func() func(int) {
		return func(job int) {
			z := pool.take()
			defer pool.put(z)
			from, to := job*atATime, min((job+1)*atATime, len(list))
			for i := from; i < to && ctx.Err() == nil; i++ {
				all[i], checked[i] = z.size(list[i]), true
			}
			if done != nil && ctx.Err() == nil {
				mutex.Lock()
				defer mutex.Unlock()
				sum += to - from
				done(sum)
			}
		}
	})
	out.All = all[:0]
	for i, ok := range checked {
		if ok {
			out.All = append(out.All, all[i])
		}
	}
	z := pool.take()
	out.Unchecked, out.NotHeld = z.unchecked, z.long()
	pool.put(z)
	out.settleAll(ctx, pool)
	return out
}

// atATime is how many candidates a goroutine takes at a time: neighbours, which
// have much in common; yet so few that all goroutines end at about the same time,
// and that done is told often enough.
func atATime(n int) int { return max(1, min(n/40, 256)) }

// Count is how many of the candidates have a verdict; those that cannot be made
// have none.
func (o *Sizes) Count(v Verdict) int {
	n := 0
	for i := range o.All {
		if o.All[i].NoBox == nil && o.All[i].Verdict == v {
			n++
		}
	}
	return n
}
