package report

import (
	"math"
	"strconv"

	"elbowroom/survey/length"
)

// free words a clearance: rounded down, without its unit.
func (p *page) free(mm float64) string { return glued(p.style.Bare(length.Free(mm))) }

// need words a gap, an outside size or an uncertainty: rounded up, without its unit.
func (p *page) need(mm float64) string { return glued(p.style.Bare(length.Needed(mm))) }

// place words a position: rounded to the nearest, without its unit.
func (p *page) place(mm float64) string { return glued(p.style.Bare(length.Place(mm))) }

// unit is the unit to put behind a figure. Feet have it in the figure.
func (p *page) unit() string {
	if p.style.Unit == length.Foot {
		return ""
	}
	return string(glue) + p.style.Unit.String()
}

// limit words the limit to which a reading should be taken: rounded down, and
// in 64ths of an inch where 32nds would say 0.
func (p *page) limit(mm float64) string {
	style := p.style
	if mm < style.Step() {
		style.Parts = 64
	}
	return glued(style.Bare(length.Free(mm))) + p.unit()
}

// none says whether a clearance prints as nothing.
func (p *page) none(mm float64) bool {
	return p.style.Bare(length.Free(mm)) == p.style.Bare(length.Free(0))
}

// tenths is a share in tenths of a percent, rounded down. Of every share that is
// a whole number of tenths the product is that number exactly (tried for all
// 1001 of them), so none of those shows as one less.
func tenths(share float64) float64 { return math.Floor(share * 1000) }

// percentDown words a share, rounded down: what is not certain never shows as
// 100 %, and what falls short of wanted never shows as wanted.
func percentDown(share, wanted float64) string {
	if math.IsNaN(share) {
		return "-"
	}
	t := math.Min(tenths(share), 999)
	if share < wanted && t/1000 >= wanted {
		t--
	}
	return tenthsText(math.Max(0, t))
}

// percentAtMost words a share that something is at most: rounded up, so that
// the sentence stays true.
func percentAtMost(share, wanted float64) string {
	t := math.Ceil(share * 1000)
	if share < wanted && t/1000 >= wanted {
		return glued("just under " + exactPercent(wanted))
	}
	return glued("at most ") + tenthsText(math.Max(1, t))
}

func tenthsText(t float64) string { return glued(strconv.FormatFloat(t/10, 'f', -1, 64) + " %") }

// exactPercent words a percentage that someone wrote.
func exactPercent(share float64) string {
	return glued(strconv.FormatFloat(math.Round(share*1e6)/1e4, 'f', -1, 64) + " %")
}

// part words a share of a whole where no side is the safe one: to the nearest percent.
func part(share float64) string {
	return glued(strconv.FormatFloat(math.Round(share*100), 'f', 0, 64) + " %")
}

// US measures: 231 cubic inches are a gallon, 4 quarts a gallon, and a pound is
// 0.45359237 kg, all exactly (NIST Special Publication 811, appendix B).
const (
	litresPerGallon = 231 * 25.4 * 25.4 * 25.4 / 1e6
	kgPerPound      = 0.45359237
)

// capacity words what the box holds: rounded down.
func (p *page) capacity(litres float64) string {
	text := down(litres, 2) + " litres"
	if !p.inches() {
		return glued(text)
	}
	if gallons := litres / litresPerGallon; gallons >= 1 {
		return glued(text) + " (" + glued(down(gallons, 2)+" US gallons") + ")"
	}
	return glued(text) + " (" + glued(down(4*litres/litresPerGallon, 2)+" US quarts") + ")"
}

// mass words a mass: rounded up.
func (p *page) mass(kg float64) string {
	text := glued(up(kg, 2) + " kg")
	if p.inches() {
		text += " (" + glued(up(kg/kgPerPound, 1)+" lb") + ")"
	}
	return text
}

func (p *page) inches() bool { return p.style.Unit == length.Inch || p.style.Unit == length.Foot }

// down and up write a number to so many places, to one side.
func down(x float64, places int) string {
	scale := math.Pow10(places)
	return strconv.FormatFloat(math.Floor(x*scale)/scale, 'f', places, 64)
}

func up(x float64, places int) string {
	scale := math.Pow10(places)
	return strconv.FormatFloat(math.Ceil(x*scale)/scale, 'f', places, 64)
}
