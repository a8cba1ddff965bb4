package length

import (
	"regexp"
	"strings"
)

// A slip is a kind of mistake that a pattern finds in a text that is no length.
type slip struct {
	find  *regexp.Regexp // in the text as plain leaves it, in lower case
	wrong string
	mend  string // $1, $2 ... stand for what find's groups matched
}

// Pieces of the patterns below. months are the beginnings of the months' names
// as spreadsheets write them in English, German, French, Spanish, Italian,
// Portuguese and Dutch (Unicode CLDR, calendar names in short form).
const (
	months = `(?:jan|feb|fév|fev|mar|mär|mrt|apr|avr|abr|may|mai|mei|mag|jun|juin|giu|jul|juil|lug|` +
		`aug|aoû|ago|sep|set|oct|okt|ott|out|nov|dec|déc|dez|dic|ene|gen|janv)`
	aUnit = `(?:mm|cm|m|millimet(?:er|re)s?|centimet(?:er|re)s?|met(?:er|re)s?|in|inch|inches|"|'|ft|foot|feet)\.?`
)

// slips are tried in this order; the first that is found names the mistake.
var slips = []slip{
	{find(`^(?:nan|[+-]?inf|[+-]?infinity|n/?a|none|nil|null|tbd|unknown|\?+|-+|x|∞)$`), isNone, mendBlank},
	{find(`^#(?:#|[a-z])`), "is a spreadsheet's complaint, not a length", mendSheet},
	{find(`^=`), "is a spreadsheet's formula", mendSheet},
	{find(`^['"] *[\d.+-]`), "has a mark in front", "write it without the mark"},

	{find(`\d[-. /]*` + months + `|^` + months + `\pL*[-. /]*\d`), isDate, mendText},
	{find(`^(?:\d+-\d+-\d+|\d+/\d+/\d+|\d\d?\.\d\d?\.(?:\d\d|\d{4})|\d\d\.\d\d\.)(?:[ t]+\d.*)?$`), isDate, mendText},
	{find(`^\d+:\d\d`), "is a time of day, as a spreadsheet may make of a number", mendText},

	{find(`^[+-]? *[\d.,]+ *e *[+-]?\d+`), "has an exponent", "write all its digits, as in 1250 or 0.025"},
	{find(`^[+-]?0[xb]`), isNone, "write it in plain digits, as in 7.25"},
	{find(`\d[oil]+(?:[\d./ ]|$)|^[oil]+[\d.]`), "has a letter among its digits", "write 0 for O, and 1 for l or I"},

	{find(`^\( *(\d.*?) *\)$`), "is in brackets", "write -$1 if it is below zero"},
	{find(`^(?:±|\+ ?/ ?-|\+-)`), "is a limit, not a length", mendWithin},
	{find(`^(?:[~<>≈≤≥]|ca\.?|about|approx\.?) *[\d.]|\d *(?:\.\.+|…|to) *[\d.]|\d.*(?:±|\+ ?/ ?-)`), "is not one length", mendWithin},
	{find(`^[+-] *[+-]`), "has two signs", "write one sign, in front"},
	{find(`^(\d.*?) *([+-])$`), "has its sign at the end", "write $2$1"},

	{find(`^([+-]? *(?:\d+ +)?\d+)-(\d+ *(?:` + aUnit + `)?)$`), isNone, "write $1/$2 if it is a fraction"},
	{find(`^([+-]? *\d+) *- *(\d+/\d.*)$`), isUnclear, "write $1 $2 if the dash only joins them"},
	{find(`^([+-]? *\d+ *` + feetMark + `) *- *(\d.*)$`), isUnclear, "write $1 $2 if the dash only joins them"},
	{find(`^(.*\d) */ +(\d.*)$|^(.*\d) +/ *(\d.*)$`), "has a blank in its fraction", "write $1$3/$2$4"},
	{find(`\.\d+/\d|/\d*\.\d|\.\d+[ -]+\d+/\d`), "has both a decimal point and a fraction", "write one of them, as in 7.25 or 7 1/4"},
	{find(`/\d*/`), "has more than one slash", "write it as in 7 1/4"},

	{find(`^([+-]? *\d+)[.,] *(?:` + aUnit + `)?$`), "has no digit after its point", "write $1 or $1.0"},
	{find(`^([+-]? *\d[\d./ -]*)[.,] *(?:` + aUnit + `)?$`), "has no digit after its point", "write $1"},
	{find(`^([+-]? *\d{1,3})'(\d{3}(?:[.,]\d+)?)$`), isGrouped, "write $1$2"},
	{find(`^([+-]? *\d+ *` + feetMark + `)[ -]*(\d{1,2}(?:\.\d+)?(?:[ -]\d+/\d+)?|\d+/\d+)$`),
		"has no unit after the feet", `write $1 $2" if those are inches`},
	{find(`^[+-]? *(?:\d*\.\d+|(?:\d+[ -]+)?\d+/\d+) *` + feetMark + `[ -]*[\d.].*` + inchMark + `$`),
		"has part of a foot before the inches", "write whole feet, then inches"},
	{find(`^[+-]? *\d+ *` + feetMark + `[^a-z'"]*` + inchMark + `$`), isNone, `write it as in 1' 3 1/2"`},
	{find(`^([+-]? *\d+) *(") *(\d+/\d+)$`), "has its unit in the middle", "write $1 $3$2"},
	{find(`^([+-]? *\d+) *(` + aUnit + `) *(\d+/\d+)$`), "has its unit in the middle", "write $1 $3 $2"},
	{find(`\d *` + aUnit + `[ +,-]*[\d.]+[\d ./-]* *` + aUnit + `$|\d *` + aUnit + ` +` + aUnit + `$`),
		"has two units", "write it in one unit, or in feet and then inches"},
	{find(`^(` + aUnit + `) *([\d.].*)$`), "has its unit in front", "write $2 $1"},
	{find(`^[+-]?[\d./, -]*\d +[\d.][\d./, -]*(?:` + aUnit + `)?$`), "is more than one number", "write one, as in 7.25 or 7 1/4"},
}

func find(pattern string) *regexp.Regexp { return regexp.MustCompile(pattern) }

var strange = find(`^[+-]? *[\d.,/ -]*\d *([\pL°%]+)\.?$`)

// diagnose names what is wrong with a text that the grammar does not know; s is
// the text as plain leaves it.
func diagnose(text, s string, comma bool) *Mistake {
	s = strings.ToLower(s)
	if s == "" {
		return &Mistake{What: "a length is missing", Mend: mendPlain}
	}
	for _, sl := range slips {
		if at := sl.find.FindStringSubmatchIndex(s); at != nil {
			return mistake(text, sl.wrong, string(sl.find.ExpandString(nil, sl.mend, s, at)))
		}
	}
	if m := commas(text, s, comma); m != nil {
		return m
	}
	if m := strange.FindStringSubmatch(s); m != nil {
		if _, known := spelled(m[1]); !known {
			return mistake(text, "has an unknown unit, "+m[1], "write it in mm, cm, m, in or ft")
		}
	}
	return mistake(text, isNone, mendPlain)
}

// Numbers with commas: one as a decimal point, and several or one as the mark
// of thousands.
var (
	decimalComma = find(`^[+-]? *\d*,\d+ *(?:` + aUnit + `)?$`)
	pointGroups  = find(`^[+-]? *\d{1,3}(?:\.\d{3})+(?:,\d+)? *(?:` + aUnit + `)?$`)
	commaGroups  = find(`^[+-]? *[1-9]\d{0,2}(?:,\d{3})+(?:\.\d+)? *(?:` + aUnit + `)?$`)
)

// commas names what is wrong with a number that has a comma; nil if that is not
// what is wrong.
func commas(text, s string, comma bool) *Mistake {
	grouped, decimal := commaGroups.MatchString(s), decimalComma.MatchString(s)
	point, none := strings.Replace(s, ",", ".", 1), strings.ReplaceAll(s, ",", "")
	switch {
	case pointGroups.MatchString(s):
		return mistake(text, isGrouped, "write "+strings.ReplaceAll(s, ".", ""))
	case grouped && decimal && !comma:
		return mistake(text, isUnclear, "write "+point+" or "+none)
	case grouped:
		return mistake(text, isGrouped, "write "+none)
	case decimal && !comma:
		return mistake(text, isNone, "write the decimal point as "+point+mendColumns)
	}
	return nil
}
