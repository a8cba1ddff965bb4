package report

import (
	"io"
	"math"
	"slices"

	"elbowroom/survey"
)

// SurveyJSON writes what the readings say for programs, laid out as JSON is:
// lengths in mm in the mounting frame, nothing rounded.
//
// A mark's feature is the first that it stands under, null for a reference mark;
// xyz_mm, u_mm (standard uncertainties along x, y, z) and from are null where no
// reading places it. unseen_mm is how far at most a slip in one reading moves the
// mark that just goes unseen, null where nothing checks the mark, which is then
// among the doubts, or nothing places it. Readings are in the order of the files. residual_mm is
// fitted less read, w that over its own standard deviation, reliability the
// redundancy number: the share of a slip in the reading that shows in it, 0 to 1.
// Of a row with several figures they are of the one that stands out most. w is
// null where nothing checks the reading. flatness_mm is null where no plane is
// fitted, variance_factor where redundancy is 0. measure_next lists the readings that
// would help the marks that tapes and depths place, known least first. The error is that of w.
func SurveyJSON(w io.Writer, v Survey) error {
	a, moves := v.Space.Adjustment, v.Space.UnseenMoves()
	doubts := v.Space.Doubts
	if d, ok := v.Space.Unchecked(moves); ok {
		doubts = append(slices.Clip(doubts), d)
	}
	fields := []field{
		{"schema", schema},
		{"marks", rowsOf(marksJSON(v.Space, moves))},
		{"readings", rowsOf(readingsJSON(v.Space))},
		{"features", rowsOf(featuresJSON(v.Space.Features))},
		{"doubts", rowsOf(doubtsJSON(doubts))},
		{"variance_factor", known(a.VarianceFactor, a.Redundancy > 0)},
		{"redundancy", number(a.Redundancy)},
		{"measure_next", rowsOf(measuresJSON(newSurveyPage(v, Options{}).measureNext()))},
	}
	text, err := object(fields)
	if err != nil {
		return err
	}
	_, err = io.WriteString(w, text)
	return err
}

type markKeys struct {
	Mark    string  `json:"mark"`
	Feature *string `json:"feature"`
	At      *place  `json:"xyz_mm"`
	U       *place  `json:"u_mm"`
	From    *string `json:"from"`
	Unseen  *number `json:"unseen_mm"`
}

func marksJSON(s *survey.Space, moves []float64) []markKeys {
	var out []markKeys
	of := featuresOf(s)
	for m, mark := range s.Marks {
		keys := markKeys{Mark: mark.Name}
		if features := of[m]; len(features) > 0 {
			keys.Feature = &features[0]
		}
		if mark.Located {
			from := mark.From.String()
			keys.At, keys.From = placeOf(mark.At), &from
			keys.U = placeOf(s.Spread(m).U)
			keys.Unseen = known(moves[m], !math.IsInf(moves[m], 1))
		}
		out = append(out, keys)
	}
	return out
}

type readingKeys struct {
	File        string  `json:"file"`
	Line        int     `json:"line"`
	Residual    *number `json:"residual_mm"`
	W           *number `json:"w"`
	Reliability number  `json:"reliability"`
}

func readingsJSON(s *survey.Space) []readingKeys {
	var out []readingKeys
	for k, r := range s.Rows {
		if r.Shared {
			continue
		}
		q := s.Adjustment.Readings[k]
		out = append(out, readingKeys{r.Pos.File, r.Pos.Line, known(q.Residual, true), known(q.W, q.Redundancy > 0), number(q.Redundancy)})
	}
	return out
}

type featureKeys struct {
	Name     string  `json:"name"`
	Shape    string  `json:"shape"`
	Flatness *number `json:"flatness_mm"`
}

func featuresJSON(list []survey.Feature) []featureKeys {
	var out []featureKeys
	for _, f := range list {
		keys := featureKeys{Name: f.Spec.Name, Shape: f.Spec.Shape.String()}
		if f.Plane != nil {
			keys.Flatness = known(f.Plane.Flatness(), true)
		}
		out = append(out, keys)
	}
	return out
}
