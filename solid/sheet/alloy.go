package sheet

// Density is of an aluminium alloy, named by its four figures as in 5052-H32, EN
// AW-5754 or AA 3003. No name counts as aluminium of some kind; ok is false for a
// name without four such figures.
//
// Source: nominal densities of the Aluminum Association, as in table 4.3
// (aluminium alloys of the Specification) of a structural engineering manual;
// those of 1050, 1060 and 1200 from a maker's table of EN alloys, those of 5754
// and 6082 from memory. Other alloys count as aluminium at large: the table runs
// from 2640 to 2810, so that is within 4 %.
func Density(alloy string) (kgm3 float64, ok bool) {
	const atLarge = 2700
	if alloy == "" {
		return atLarge, true
	}
	figures, ok := fourFigures(alloy)
	if !ok {
		return 0, false
	}
	switch figures {
	case "1050", "1060":
		return 2705, true
	case "1100", "6070", "6351":
		return 2710, true
	case "2014":
		return 2800, true
	case "2024":
		return 2780, true
	case "3003", "3005":
		return 2730, true
	case "3004", "3105", "6066":
		return 2720, true
	case "5050", "5454", "5554", "6463":
		return 2690, true
	case "5052":
		return 2680, true
	case "5754":
		return 2670, true
	case "5083", "5086", "5154", "5456", "5654":
		return 2660, true
	case "7075":
		return 2810, true
	}
	return atLarge, true // 1200, 5005, 6005, 6061, 6063 and 6082 too
}

// fourFigures finds the alloy's number: the first run of just four figures that
// starts with a group from 1 to 8. A number with a point, as in the old 3.3535
// or steel's 1.4301, is another system's.
func fourFigures(alloy string) (string, bool) {
	for i := 0; i < len(alloy); {
		j := i
		for j < len(alloy) && isFigure(alloy[j]) {
			j++
		}
		if j-i == 4 && alloy[i] >= '1' && alloy[i] <= '8' && !pointAt(alloy, i-1) && !pointAt(alloy, j) {
			return alloy[i:j], true
		}
		i = j + 1
	}
	return "", false
}

func isFigure(c byte) bool { return c >= '0' && c <= '9' }

func pointAt(s string, i int) bool { return i >= 0 && i < len(s) && s[i] == '.' }
