package survey

import (
	"fmt"
	"math"

	"elbowroom/survey/length"
)

// Limit is the most that a tape of this class may be off over a length in mm,
// either way, in mm: I 0.1 + 0.1 L, II 0.3 + 0.2 L, III 0.6 + 0.4 L, with L the
// length in metres rounded up. Without a class it is 0.
//
// Source: OIML R 35-1, and Directive 2014/32/EU, annex X (MI-008), chapter I, at
// 20 °C and 50 N of pull.
func (f TapeFacts) Limit(mm float64) float64 {
	// What is within 1e-6 mm of a whole metre counts as on it.
	metres := math.Max(1, math.Ceil((math.Abs(mm)-onLimit)/1000))
	switch f.Class {
	case "I":
		return 0.1 + 0.1*metres
	case "II":
		return 0.3 + 0.2*metres
	case "III":
		return 0.6 + 0.4*metres
	}
	return 0
}

// What sag and temperature are reckoned with. The blade is one of 25 mm by
// 0.13 mm in steel of 7,850 kg/m3, with its coat about 0.03 kg/m (own
// estimate); a hand that reaches into a bay pulls with 20 N, not with the 50 N
// that tapes are checked at (own estimate); 20 K off the 20 °C of the check is
// a cold garage or a warm bay (own estimate).
const (
	bladeWeight = 0.03 * 9.81 // N/m
	handPull    = 20.0        // N
	steel       = 11.5e-6     // growth of steel for each K
	offCheck    = 20.0        // K
)

// sag is how much longer than the straight distance a tape reads that hangs
// free over a span, mm: w2 L3 / (24 P2), the first term of the catenary
// (Wolf and Ghilani, Elementary Surveying, "Correction for sag").
func sag(mm float64) float64 {
	m := mm / 1000
	return 1000 * bladeWeight * bladeWeight * m * m * m / (24 * handPull * handPull)
}

// warmth is how far a tape is off for being offCheck warmer or colder, mm.
func warmth(mm float64) float64 { return mm * steel * offCheck }

// matters is the share of a reading's limit from which on sag or temperature
// are worth a word.
const matters = 0.25

// tapeWeight puts the words on sag and temperature last.
const tapeWeight = 0.5

// TapeDoubts says where sag or temperature may make tapes wrong by more than a
// quarter of their limit: each once, at the tape where it matters most.
func (r Readings) TapeDoubts() []Doubt {
	var doubts []Doubt
	mention := func(off func(mm float64) float64, says string) {
		worst, most := -1, matters
		for i, t := range r.Tapes {
			if share := off(t.Length.Value) / t.Limit.Half(); t.Limit.Half() > 0 && share > most {
				worst, most = i, share
			}
		}
		if worst >= 0 {
			t := r.Tapes[worst]
			by := r.Style.Print(length.Needed(off(t.Length.Value)))
			doubts = append(doubts, Doubt{Pos: t.Length.Pos, Weight: tapeWeight, Severity: Remark, Says: fmt.Sprintf(says, t.From, t.To, by)})
		}
	}
	mention(sag, "the tape from %s to %s reads about %s long if it hung free: hold it up in the middle, or pull harder")
	mention(warmth, "the tape from %s to %s is off by about %s if it was 20 °C warmer or colder than the room it was checked in")
	return doubts
}
