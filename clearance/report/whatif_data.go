package report

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"elbowroom/clearance"
)

// sizeKeys is one size for programs. The first are the contract's; what follows
// says where the box stands, what sure is, and where it is least to spare.
type sizeKeys struct {
	Width    number  `json:"width_mm"`
	Height   number  `json:"height_mm"`
	Depth    number  `json:"depth_mm"`
	Verdict  *string `json:"verdict"`
	Sure     *number `json:"sure"`
	Least    *number `json:"least_clearance_mm"`
	Part     *string `json:"part"`
	Feature  *string `json:"feature"`
	Capacity *number `json:"capacity_l"`

	At           [2]number `json:"at_mm"`
	SureIs       *string   `json:"sure_is"`
	Drawn        *bool     `json:"settled"`
	InPart       bool      `json:"in_part"`
	Spare        *number   `json:"to_spare_mm"`
	SparePart    *string   `json:"to_spare_part"`
	SpareFeature *string   `json:"to_spare_feature"`
	NoBox        *string   `json:"no_box"`
}

// SizesJSON writes the answer to many sizes for programs, in mm, nothing rounded.
// A size of which no box can be made has verdict null and says why under no_box.
// settled is false where check may say something else: each line alone is sure enough
// and all together were not drawn, or, with in_part true, it was not held against all
// that the job asks for, and check may say worse than all else does. to_spare_mm is the least clearance
// less its gap. best lists indices into sizes. The error is that of w.
func SizesJSON(w io.Writer, s *clearance.Sizes) error {
	best := s.Best
	if best == nil {
		best = []int{}
	}
	var list []sizeKeys
	for i := range s.All {
		list = append(list, sizeJSON(s, &s.All[i]))
	}
	text, err := object([]field{
		{"schema", schema},
		{"title", s.Title},
		{"units", s.Unit.String()},
		{"asked", s.Asked},
		{"sizes", rowsOf(list)},
		{"best", best},
	})
	if err != nil {
		return err
	}
	_, err = io.WriteString(w, text)
	return err
}

func sizeJSON(s *clearance.Sizes, z *clearance.Sized) sizeKeys {
	keys := sizeKeys{
		Width: number(z.Size.Width), Height: number(z.Size.Height), Depth: number(z.Size.Depth),
		At: [2]number{number(z.At.X), number(z.At.Y)},
	}
	if z.NoBox != nil {
		why := Clean(z.NoBox.Text(mmText))
		keys.NoBox = &why
		return keys
	}
	verdict, settled := z.Verdict.String(), !z.Open
	keys.Verdict, keys.Sure, keys.SureIs, keys.Drawn, keys.InPart = &verdict, known(z.Sure, true), &z.SureIs, &settled, z.Left
	keys.Capacity = known(z.CapacityL, s.Known)
	if z.Lines {
		keys.Least, keys.Part, keys.Feature = known(z.Least.Clearance, true), &z.Least.Part, &z.Least.Feature
		keys.Spare, keys.SparePart, keys.SpareFeature = known(z.Spare.Spare(), true), &z.Spare.Part, &z.Spare.Feature
	}
	return keys
}

func mmText(mm float64) string { return strconv.FormatFloat(mm, 'g', 6, 64) + " mm" }

// SizesCSV writes the answer to many sizes as a table for a spreadsheet: as the
// JSON, with best as a column of yes and no. What is not known is blank. The error
// is that of w.
func SizesCSV(w io.Writer, s *clearance.Sizes) error {
	best := map[int]bool{}
	for _, i := range s.Best {
		best[i] = true
	}
	out := csv.NewWriter(w)
	out.Write([]string{
		"width_mm", "height_mm", "depth_mm", "x_mm", "y_mm", "verdict", "sure", "sure_is", "settled", "in_part", "best",
		"least_clearance_mm", "part", "feature", "to_spare_mm", "to_spare_part", "to_spare_feature", "capacity_l", "no_box",
	})
	for i := range s.All {
		k := sizeJSON(s, &s.All[i])
		settled := ""
		if k.Drawn != nil {
			settled = yesNo(*k.Drawn)
		}
		out.Write([]string{
			digits(&k.Width), digits(&k.Height), digits(&k.Depth), digits(&k.At[0]), digits(&k.At[1]),
			csvText(k.Verdict), digits(k.Sure), csvText(k.SureIs), settled, yesNo(k.InPart), yesNo(best[i]),
			digits(k.Least), csvText(k.Part), csvText(k.Feature), digits(k.Spare), csvText(k.SparePart), csvText(k.SpareFeature),
			digits(k.Capacity), csvText(k.NoBox),
		})
	}
	out.Flush()
	return out.Error()
}

func yesNo(yes bool) string { return chosen(yes, "yes", "no") }

func digits(n *number) string {
	if n == nil {
		return ""
	}
	return strconv.FormatFloat(float64(*n), 'g', -1, 64)
}

// csvText is a name that no spreadsheet takes for a formula.
func csvText(s *string) string {
	if s == nil {
		return ""
	}
	clean := Clean(*s)
	if strings.HasPrefix(clean, "=") || strings.HasPrefix(clean, "+") || strings.HasPrefix(clean, "-") || strings.HasPrefix(clean, "@") {
		return "'" + clean
	}
	return clean
}
