package length

import "strings"

// Unit is a unit of length that a person may write in.
type Unit int

// The units. The zero Unit is the millimetre.
const (
	MM Unit = iota
	CM
	Metre
	Inch
	Foot
)

// ParseUnit finds the unit by its name: mm cm m in ft.
func ParseUnit(name string) (Unit, bool) {
	for u := MM; u <= Foot; u++ {
		if u.String() == name {
			return u, true
		}
	}
	return MM, false
}

// MM is the unit's size in millimetres. An inch is exactly 25.4 (international
// yard and pound agreement of 1959; NIST Special Publication 811, appendix B).
func (u Unit) MM() float64 {
	switch u {
	case CM:
		return 10
	case Metre:
		return 1000
	case Inch:
		return 25.4
	case Foot:
		return 304.8
	}
	return 1
}

// String is the name that ParseUnit knows.
func (u Unit) String() string {
	switch u {
	case CM:
		return "cm"
	case Metre:
		return "m"
	case Inch:
		return "in"
	case Foot:
		return "ft"
	}
	return "mm"
}

// spelled finds the unit by any of its spellings, such as inches, Ft. or ".
func spelled(word string) (Unit, bool) {
	switch strings.TrimSuffix(strings.ToLower(word), ".") {
	case "mm", "millimetre", "millimetres", "millimeter", "millimeters":
		return MM, true
	case "cm", "centimetre", "centimetres", "centimeter", "centimeters":
		return CM, true
	case "m", "metre", "metres", "meter", "meters":
		return Metre, true
	case `"`, "in", "inch", "inches":
		return Inch, true
	case "'", "ft", "foot", "feet":
		return Foot, true
	}
	return MM, false
}
