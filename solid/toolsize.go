package solid

import (
	"fmt"

	"github.com/golang/geo/s1"
)

// spannerRoom is what a hexagon's spanner needs: across flats, and the greatest
// of three distances from the middle of the hexagon to what is in the way (a, b
// and c, for open and ring spanners), mm. Source: RoyMech, "Head Clearances"
// (conservative, by its own words), its table for BS 3692 bolts M3 to M36. What
// each letter stands for is shown in a figure that was not seen, so that the
// greatest is taken for all of them.
func spannerRoom() [][2]float64 {
	return [][2]float64{
		{5.5, 10}, {7, 12}, {8, 12}, {10, 15}, {13, 18}, {17, 28}, {19, 30}, {24, 30}, {30, 32}, {36, 48}, {46, 60}, {55, 60},
	}
}

// head is the least circle that a spanner's jaws need, by the table's next larger
// hexagon; beyond it in proportion.
func head(hex float64) float64 {
	table := spannerRoom()
	for _, row := range table {
		if hex <= row[0]+reach {
			return 2 * row[1]
		}
	}
	last := table[len(table)-1]
	return 2 * last[1] * hex / last[0]
}

// Sizes that no source was found for, mm: common practice.
const (
	handlePerHex = 12.0 // a handle is about twelve hexagons long ...
	handleMore   = 30.0 // ... and 30 mm more
	thickPerHex  = 0.6
	widePerHex   = 1.0
	driverAcross = 12.7  // a nut driver for a clamp's 5/16 in (8 mm) hexagon
	driverLong   = 175.0 // a stubby driver's 75 mm, and the hand behind it
	fingers      = 25.0  // round a cap
	overCap      = 50.0  // room for the hand that lifts it
)

// A pressure cap for a small neck, 12 to 16 psi: how far it reaches into the neck at
// most, 21.34 + 0.51, and the most that it is across, mm (SAE J164-2020, as tabulated
// by a library of standards).
const (
	capReach  = 21.85
	capAcross = 80.26
)

// swing is the least that lets a spanner turn a hexagon: 30 degrees for a ring of
// twelve points, or an open one whose jaws stand at 15 degrees to its handle
// and that is turned over after each swing (NAVEDTRA 14001, chapter 1).
const swing = 30 * s1.Degree

// Usual fills in what a keep-open volume leaves at 0 and has a usual size.
func (k KeepOpen) Usual(f Fitting) KeepOpen {
	or := func(x *float64, usual float64) {
		if *x == 0 {
			*x = usual
		}
	}
	switch k.Kind {
	case CapRoom:
		or(&k.Diameter, f.acrossCap()+2*fingers)
		or(&k.Length, overCap)
	case Driver:
		or(&k.Diameter, driverAcross)
		or(&k.Length, driverLong)
		e, _, _ := f.element(k.On)
		or(&k.Clamp, e.Diameter)
	case Spanner:
		if k.Hex > 0 {
			or(&k.Handle, handlePerHex*k.Hex+handleMore)
			or(&k.Thick, thickPerHex*k.Hex)
			or(&k.Wide, widePerHex*k.Hex)
			or(&k.Head, head(k.Hex))
			if k.Sweep == 0 {
				k.Sweep = swing
			}
		}
		or(&k.Wide, k.Thick)
	}
	return k
}

// capAcross is the outermost element's diameter, that of a pressure cap where
// there is none.
func (f Fitting) acrossCap() float64 {
	if d := f.last().Diameter; d > 0 {
		return d
	}
	return capAcross
}

// Origins say where the sizes come from that the job leaves out; none where it gives
// all.
func (k KeepOpen) Origins(Fitting) []string {
	var says []string
	add := func(missing bool, text string) {
		if missing {
			says = append(says, text)
		}
	}
	switch k.Kind {
	case CapRoom:
		add(k.Diameter == 0, fmt.Sprintf("%g mm for fingers all round the cap (common practice, no source; a small pressure cap is up to %g mm across, SAE J164, at second hand)", fingers, capAcross))
		add(k.Length == 0, fmt.Sprintf("%g mm over it for the hand that lifts it out (common practice, no source; a small pressure cap reaches up to %g mm into its neck, SAE J164, at second hand)", overCap, capReach))
	case Driver:
		add(k.Diameter == 0, fmt.Sprintf("%g mm across, a nut driver for the 5/16 in (8 mm) hexagon of a worm clamp (common practice, no source)", driverAcross))
		add(k.Length == 0, fmt.Sprintf("%g mm long, a stubby driver and the hand behind it (common practice, no source)", driverLong))
	case Spanner:
		add(k.Thread != "", fmt.Sprintf("a hex of %.4g mm, usual for a pipe thread of %s (from memory), which comes out by %.3g mm (ASME B1.20.1)", k.Hex, k.Thread, k.Travel))
		if k.Hex > 0 {
			add(k.Head == 0, fmt.Sprintf("%.3g mm round the hex for the jaws (RoyMech, Head Clearances, table for BS 3692: the greatest of its a, b and c, whose figure was not seen)", head(k.Hex)))
			add(k.Handle == 0 || k.Thick == 0 || k.Wide == 0, "the handle and its thickness by the hex (common practice, no source)")
		}
		add(k.Hex > 0 && k.Sweep == 0, "30 degrees of swing, as a ring spanner of twelve points needs, or an open one with its jaws at 15 degrees that is turned over each time (NAVEDTRA 14001); one that cannot be turned over needs 60")
	}
	return says
}

// PipeThread is a tapered pipe thread, in inches: outside diameter of the pipe,
// threads an inch, and the usual hexagon of a fitting with that thread outside.
type PipeThread struct {
	Name          string
	Pipe, PerInch float64
	Hex           float64
}

// PipeThreads lists the sizes that a tank takes. Pipe and threads: ASME B1.20.1.
// The hexagons are those of common adapters, from memory, no source: each is the
// first bar that the thread can be cut on.
func PipeThreads() []PipeThread {
	return []PipeThread{
		{"1/8", 0.405, 27, 7. / 16}, {"1/4", 0.540, 18, 9. / 16}, {"3/8", 0.675, 18, 11. / 16},
		{"1/2", 0.840, 14, 7. / 8}, {"3/4", 1.050, 14, 1 + 1./16}, {"1", 1.315, 11.5, 1 + 3./8},
	}
}

// Effective is the length of the effective thread, mm: how far a fitting travels
// at most until it is out. L2 = (0.80 D + 6.8) / n, ASME B1.20.1.
func (p PipeThread) Effective() float64 {
	const inch = 25.4
	return inch * (0.80*p.Pipe + 6.8) / p.PerInch
}

// HexMM is the hexagon in mm.
func (p PipeThread) HexMM() float64 { return p.Hex * 25.4 }

// FindPipeThread finds one by its size, as in "1/2".
func FindPipeThread(size string) (PipeThread, bool) {
	for _, p := range PipeThreads() {
		if p.Name == size {
			return p, true
		}
	}
	return PipeThread{}, false
}
