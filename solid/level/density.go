package level

// Coolant is what a cooling system is filled with.
type Coolant int

// The coolants whose densities are known here.
const (
	HalfGlycol Coolant = iota // water with 50 % ethylene glycol by volume
	Water
)

// Known is the range of temperatures of which densities are known.
func (c Coolant) Known() (from, to float64) {
	if c == Water {
		return 0, 100
	}
	t := glycolTable()
	return celsius(t[0][0]), celsius(t[len(t)-1][0])
}

// Source says where the densities come from.
func (c Coolant) Source() string {
	if c == Water {
		return "Bettin and Spieweck's formula, 0 to 100 C"
	}
	return "ASHRAE Fundamentals, 50 % ethylene glycol by volume, 40 to 250 F"
}

// Density is the coolant's at a temperature, at about the pressure of the air;
// ok is false outside Known.
func (c Coolant) Density(t float64) (density float64, ok bool) {
	// Written degrees Fahrenheit come back a rounding step off.
	const rounding = 1e-9
	if from, to := c.Known(); t < from-rounding || t > to+rounding {
		return 0, false
	}
	if c == Water {
		return water(t), true
	}
	return glycol(t), true
}

// Expansion is by what share of its cold volume the coolant grows from cold to
// hot: the ratio of the densities less one. ok is false where one is not known.
func (c Coolant) Expansion(cold, hot float64) (share float64, ok bool) {
	a, okCold := c.Density(cold)
	b, okHot := c.Density(hot)
	if !okCold || !okHot {
		return 0, false
	}
	return a/b - 1, true
}

// water is the density of air-free water at 1 atm, 0 to 100 C, good to 0.01
// kg/m3 or better (H. Bettin and F. Spieweck, PTB-Mitteilungen 100, 1990, as
// printed in the IP Standard Methods, appendix G).
func water(t float64) float64 {
	n := 999.83952 + t*(16.952577+t*(-7.9905127e-3+t*(-46.241757e-6+t*(105.84601e-9-281.03006e-12*t))))
	return n / (1 + 16.887236e-3*t)
}

// glycolTable is the density of water with 50 % ethylene glycol by volume: F and
// lb/ft3 (ASHRAE Fundamentals, as copied in a heating design manual, table 5-16).
// By mass, a maker's table, it is 1090 kg/m3 at 0 C and 1042 at 80 C: that is
// another mixture.
func glycolTable() [][2]float64 {
	return [][2]float64{
		{40, 67.47}, {70, 67.05}, {100, 66.55}, {150, 65.53}, {180, 64.80}, {200, 64.27}, {220, 63.70}, {250, 62.78},
	}
}

func celsius(fahrenheit float64) float64 { return (fahrenheit - 32) / 1.8 }

// One pound is 0.45359237 kg and one foot 0.3048 m, exactly.
const kgPerCubicMetre = 0.45359237 / (0.3048 * 0.3048 * 0.3048)

// glycol goes straight between the table's values. The true curve bends down, so
// that this is low in between: by at most h2/8 of its second difference, 0.4 kg/m3.
func glycol(t float64) float64 {
	table := glycolTable()
	k := 1
	for k < len(table)-1 && celsius(table[k][0]) < t {
		k++
	}
	a, b := table[k-1], table[k]
	f := t*1.8 + 32
	return kgPerCubicMetre * (a[1] + (b[1]-a[1])*(f-a[0])/(b[0]-a[0]))
}
