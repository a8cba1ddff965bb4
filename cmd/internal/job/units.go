package job

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/s1"

	"elbowroom/survey/table"
)

// angle reads the angle under key: -3deg or 10°. A bare number is no angle, but
// for 0.
func (s section) angle(key string, from least, into *s1.Angle) (given bool) {
	n, ok := s.get(key)
	if !ok {
		return false
	}
	a, ok := s.r.angle(n)
	if ok && s.r.atLeast(n, a.Degrees(), from) {
		*into = a
		return true
	}
	return false
}

func (r *reader) angle(n node) (s1.Angle, bool) {
	t, ok := r.word(n, "an angle")
	if !ok {
		return 0, false
	}
	v, unit, ok := measure(t)
	switch {
	case !ok:
		r.complain(n, table.Quote(t)+" is not an angle", "write it as 10deg")
	case unit == "" && v != 0:
		r.complain(n, fmt.Sprintf("%s has no unit", t), "write "+t+"deg if degrees are meant")
	case unit != "" && unit != "deg" && unit != "°" && unit != "degrees" && unit != "degree":
		r.complain(n, table.Quote(unit)+" is not a unit of angle", "write it in degrees, as 10deg")
	case math.Abs(v) > 360:
		r.complain(n, fmt.Sprintf("%s is more than a full turn", t), "write it between -360deg and 360deg")
	default:
		return s1.Angle(v) * s1.Degree, true
	}
	return 0, false
}

// percent reads the share under key as a number from 0 to 1.
func (s section) percent(key string, into *float64) (n node, given bool) {
	n, ok := s.get(key)
	if !ok {
		return n, false
	}
	t, ok := s.r.word(n, "a percentage")
	if !ok {
		return n, false
	}
	v, unit, ok := measure(t)
	switch {
	case !ok:
		s.r.complain(n, table.Quote(t)+" is not a percentage", "write it as 85%")
	case unit == "" && v != 0:
		share := v
		if v <= 1 {
			share = 100 * v
		}
		s.r.complain(n, t+" has no % sign", fmt.Sprintf("write %.6g%% if that is meant", share))
	case unit != "" && unit != "%" && unit != "percent":
		s.r.complain(n, table.Quote(t)+" is not a percentage", "write it as 85%")
	case v < 0 || v > 100:
		s.r.complain(n, fmt.Sprintf("%s is not between 0%% and 100%%", t), "write it as 85%")
	default:
		*into = v / 100
		return n, true
	}
	return n, false
}

// pressure is a unit of pressure in kPa. The pound-force per square inch is
// 0.45359237 kg x 9.80665 m/s2 over (25.4 mm)2 (NIST Special Publication 811,
// appendix B).
func pressure(unit string) (kPa float64, ok bool) {
	switch strings.ToLower(unit) {
	case "psi":
		return 0.45359237 * 9.80665 / (25.4 * 25.4) * 1000, true
	case "kpa":
		return 1, true
	case "bar":
		return 100, true
	}
	return 0, false
}

// pressure reads the pressure under key in kPa; none needs no unit.
func (s section) pressure(key string, into *float64) {
	if n, ok := s.get(key); ok && n.kind == scalar && n.text == "0" {
		*into = 0
		return
	}
	s.measured(key, "pressure", "write it as 16 psi, 110 kPa or 1.1 bar", pressure, func(n node, v, scale float64) {
		if s.r.atLeast(n, v, fromZero) {
			*into = v * scale
		}
	})
}

// measured reads a number with a unit behind it; take gets them where both are known.
func (s section) measured(key, what, mend string, scales func(unit string) (float64, bool), take func(n node, v, scale float64)) {
	n, ok := s.get(key)
	if !ok {
		return
	}
	t, ok := s.r.word(n, "a "+what)
	if !ok {
		return
	}
	v, unit, ok := measure(t)
	scale, known := scales(unit)
	switch {
	case !ok:
		s.r.complain(n, table.Quote(t)+" is not a "+what, mend)
	case unit == "":
		s.r.complain(n, t+" has no unit", mend)
	case !known:
		s.r.complain(n, table.Quote(unit)+" is not a unit of "+what+" that is known here", mend)
	default:
		take(n, v, scale)
	}
}

// measure splits a decimal number from the unit behind it.
func measure(text string) (value float64, unit string, ok bool) {
	end := strings.IndexFunc(text, func(c rune) bool { return !strings.ContainsRune("+-.0123456789", c) })
	if end < 0 {
		end = len(text)
	}
	value, err := strconv.ParseFloat(text[:end], 64)
	return value, strings.TrimSpace(text[end:]), err == nil
}
