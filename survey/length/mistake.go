package length

import (
	"fmt"
	"math/big"
	"strings"

	"elbowroom/survey/table"
)

// Mistake says what is wrong with a text that should be a length, and how to
// write it. Its mend speaks to the writer of a table; see Alone.
type Mistake struct{ What, Mend string }

func (m *Mistake) Error() string { return m.What + "; " + m.Mend }

// Alone is the mistake for a text that is no cell of a table, but stands in
// job.yaml or on the command line: its mend does not speak of cells and columns.
func (m Mistake) Alone() *Mistake {
	switch m.Mend {
	case mendText, mendBlank, mendSheet:
		m.Mend = mendPlain
	case mendWithin:
		m.Mend = "write one number, as in 7 1/4"
	case mendDefault:
		m.Mend = mendLimit
	}
	m.Mend = strings.TrimSuffix(m.Mend, mendColumns)
	return &m
}

// Wordings that more than one mistake has, or that Alone knows.
const (
	isNone    = "is not a length"
	isDate    = "is a date, as a spreadsheet makes of a fraction"
	isUnclear = "can be read in more than one way"
	isGrouped = "has a mark between its thousands"

	mendPlain   = "write it as in 7 1/4, 7.25 in or 184 mm"
	mendText    = "format the column as text and write it again"
	mendBlank   = "leave the cell blank if it was not measured"
	mendWithin  = "write one number here, and how near it is under within"
	mendSheet   = "write the length itself in that cell"
	mendColumns = ", or separate the columns with ;"
)

// mistake makes one whose What is the text, quoted, and what is wrong with it.
func mistake(text, wrong, mend string) *Mistake {
	return &Mistake{What: table.Quote(text) + " " + wrong, Mend: mend}
}

// oneOrMore is for a fraction that is not less than one. If a blank may have
// been lost in it (71/4 for 7 1/4), every reading is offered.
func oneOrMore(text, whole, num, den string) *Mistake {
	n, d := rat(num).Num(), rat(den).Num()
	if whole != "" {
		n.Add(n, new(big.Int).Mul(rat(whole).Num(), d))
		return mistake(text, "has a fraction of one or more", "write "+mixed(n, d))
	}
	if lost := splits(num, den); len(lost) > 0 {
		return mistake(text, isUnclear, "write "+strings.Join(lost, ", ")+" or "+mixed(n, d))
	}
	return mistake(text, "has a fraction of one or more", "write "+mixed(n, d))
}

// splits lists the mixed numbers that num/den may be, with a blank lost in num.
func splits(num, den string) []string {
	var lost []string
	for i := 1; i < len(num); i++ {
		if num[i] != '0' && rat(num[i:]).Cmp(rat(den)) < 0 {
			lost = append(lost, fmt.Sprintf("%s %s/%s", num[:i], num[i:], den))
		}
	}
	return lost
}

// mixed writes n/d as a whole number and a fraction.
func mixed(n, d *big.Int) string {
	whole, rest := new(big.Int).QuoRem(n, d, new(big.Int))
	if rest.Sign() == 0 {
		return whole.String()
	}
	return fmt.Sprintf("%s %s/%s", whole, rest, d)
}
