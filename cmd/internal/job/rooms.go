package job

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"elbowroom/solid"
	"elbowroom/survey/table"
)

// roomKeys are all keys of a keep-open volume.
var roomKeys = []string{
	"name", "kind", "diameter", "length", "aside", "size", "clock", "clamp", "on", "out",
	"handle", "thick", "wide", "head", "sweep", "start", "hex",
}

// roomKinds are the words for the kinds, in the order of kinds below.
var roomKinds = []string{"cylinder", "box", "cap", "driver", "spanner"}

// keepOpen reads the volumes that hands and tools need.
func (s section) keepOpen(f *solid.Fitting) {
	s.each("keep_open", func(n node) {
		k := solid.KeepOpen{}
		u := s.r.section(n, roomKeys...)
		u.need([2]string{"name", "lift the cap"})
		u.text("name", &k.Name)
		_, i, given := u.choice("kind", roomKinds...)
		if given {
			k.Kind = [...]solid.KeepOpenKind{solid.PlainRoom, solid.BoxRoom, solid.CapRoom, solid.Driver, solid.Spanner}[i]
		}
		if _, there := u.value["kind"]; given == there { // else it is not known what room it needs
			u.room(&k)
			s.r.onStack(u, *f, k)
		}
		k.Aside = u.featureNames("aside")
		f.KeepOpen = append(f.KeepOpen, k)
	})
}

// room reads the size of a keep-open volume; each kind has keys of its own.
func (s section) room(k *solid.KeepOpen) {
	switch k.Kind {
	case solid.Spanner:
		s.spanner(k)
	case solid.Driver:
		s.not("a driver's room has no ", "say its diameter and its length, or leave them out for the usual ones", "size", "handle", "thick", "wide", "head", "sweep", "start", "hex")
		s.length("clamp", overZero, &k.Clamp)
		s.place(k)
	case solid.BoxRoom:
		s.need([2]string{"size", "[3, 2, 4], across, up and out of the fitting"})
		s.not("a box has no ", "say its size, or take it out", "diameter", "length", "clamp", "on", "out", "handle", "thick", "wide", "head", "sweep", "start", "hex")
		if n, ok := s.get("size"); ok {
			k.Size, _ = s.r.vector(n, overZero, "across", "up", "out")
		}
	case solid.CapRoom:
		s.not("a cap's room has no ", "say its diameter and its length, or leave them out for the usual ones", "size", "clock", "clamp", "on", "out", "handle", "thick", "wide", "head", "sweep", "start", "hex")
	default:
		s.need([2]string{"diameter", "3 1/2"}, [2]string{"length", "1 1/2"})
		s.not("a plain volume has no ", "say kind: box, cap, driver or spanner, or take it out", "size", "clock", "clamp", "on", "out", "handle", "thick", "wide", "head", "sweep", "start", "hex")
	}
	if k.Kind != solid.Spanner && k.Kind != solid.BoxRoom {
		s.length("diameter", overZero, &k.Diameter)
		s.length("length", overZero, &k.Length)
	}
	if k.Kind == solid.Driver || k.Kind == solid.BoxRoom {
		k.AnyClock, k.ClockFixed = s.clock("clock", &k.Clock)
	}
}

// clamps lets a driver's clamp go round the hose that leaves the fitting, where the
// job does not say what it goes round.
func (r *reader) clamps() {
	for i := range r.job.Tank.Fittings {
		f := &r.job.Tank.Fittings[i]
		for _, h := range r.job.Rules.Hoses {
			for k := range f.KeepOpen {
				if room := &f.KeepOpen[k]; h.From == f.Name && room.Kind == solid.Driver && room.Clamp == 0 {
					room.Clamp = h.Outside
				}
			}
		}
	}
}

// spanner reads a spanner's room: by the hexagon, or by its sizes.
func (s section) spanner(k *solid.KeepOpen) {
	if _, byHex := s.value["hex"]; !byHex {
		s.need([2]string{"handle", "6"}, [2]string{"thick", "1/2"}, [2]string{"sweep", "30deg"})
	}
	s.not("a spanner's room has no ", "say how long its handle is, how thick it is and how far it swings", "size", "diameter", "length", "clamp")
	s.not("a spanner's room has no ", "say start: where its handle starts", "clock")
	s.hex(k)
	s.length("handle", overZero, &k.Handle)
	s.length("thick", overZero, &k.Thick)
	s.length("wide", overZero, &k.Wide)
	s.length("head", overZero, &k.Head)
	s.angle("sweep", overZero, &k.Sweep)
	_, k.ClockFixed = s.clock("start", &k.Clock)
	s.place(k)
}

// place reads where along the stack a tool is.
func (s section) place(k *solid.KeepOpen) {
	s.text("on", &k.On)
	k.OutGiven = s.length("out", fromZero, &k.Out)
}

// onStack checks that the element that a tool is on is one of the stack.
func (r *reader) onStack(u section, f solid.Fitting, k solid.KeepOpen) {
	n, ok := u.value["on"]
	if !ok || k.On == "" {
		return
	}
	var names []string
	for _, e := range f.Stack {
		if e.Name == k.On {
			return
		}
		names = append(names, e.Name)
	}
	r.complain(n, "the stack has no element "+table.Quote(k.On), likely(k.On, names, "its elements are "))
}

// hex reads what a spanner grips: a length across flats, or a pipe thread's size, as in 1/2 npt.
func (s section) hex(k *solid.KeepOpen) {
	n, ok := s.get("hex")
	if !ok {
		return
	}
	size, pipe := strings.CutSuffix(strings.ToLower(n.text), "npt")
	if n.kind != scalar || !pipe {
		s.length("hex", overZero, &k.Hex)
		return
	}
	thread, known := solid.FindPipeThread(strings.TrimSpace(size))
	if !known {
		var names []string
		for _, p := range solid.PipeThreads() {
			names = append(names, p.Name+" npt")
		}
		s.r.complain(n, table.Quote(n.text)+" is no pipe thread that is known here", "write the hexagon's size across flats, or one of "+strings.Join(names, ", "))
		return
	}
	k.Hex, k.Travel, k.Thread = thread.HexMM(), thread.Effective(), thread.Name
}

// clock reads a clock angle: 90deg clockwise from 12, or 3:00, or any.
func (s section) clock(key string, into *s1.Angle) (all, fixed bool) {
	n, ok := s.get(key)
	if !ok {
		return false, false
	}
	if n.kind == scalar && strings.EqualFold(n.text, "any") {
		return true, false
	}
	if a, ok := hours(n.text); n.kind == scalar && ok {
		*into = a
		return false, true
	}
	if strings.Contains(n.text, ":") {
		s.r.complain(n, table.Quote(n.text)+" is no time on a clock", "write it as 4:30, from 1:00 to 12:59, as 135deg, or as any")
		return false, false
	}
	if h, err := strconv.Atoi(n.text); n.kind == scalar && err == nil && h > 0 && h <= 12 {
		s.r.complain(n, n.text+" may be an hour or degrees", "write "+n.text+":00 or "+n.text+"deg")
		return false, false
	}
	return false, s.angle(key, unlimited, into)
}

// hours reads 4:30 as the clock angle of the hour hand.
func hours(text string) (s1.Angle, bool) {
	h, m, ok := strings.Cut(strings.TrimSpace(text), ":")
	if !ok || len(m) != 2 {
		return 0, false
	}
	hour, err := strconv.Atoi(h)
	minute, bad := strconv.Atoi(m)
	if err != nil || bad != nil || hour < 1 || hour > 12 || minute < 0 || minute > 59 {
		return 0, false
	}
	return s1.Angle(float64(hour%12)*30+float64(minute)/2) * s1.Degree, true
}

// use reads what a fitting is for.
func (s section) use(f *solid.Fitting) {
	if _, i, ok := s.choice("use", "fill", "outlet", "vent", "other"); ok {
		f.Use = [...]solid.Use{solid.FillUse, solid.OutletUse, solid.VentUse, solid.OtherUse}[i]
	}
	for _, other := range s.r.job.Tank.Fittings {
		if f.Use == other.Use && (f.Use == solid.FillUse || f.Use == solid.OutletUse) {
			s.r.complain(s.value["use"], fmt.Sprintf("%s is for that already", other.Name), "let one fitting be the fill, and one the outlet")
		}
	}
}

// litres is a unit of volume in litres. The US gallon is 231 cubic inches, and a
// quart a fourth of it, exactly.
func litres(unit string) (float64, bool) {
	const gallon = 231 * 25.4 * 25.4 * 25.4 / 1e6
	switch strings.ToLower(unit) {
	case "l", "litre", "litres", "liter", "liters":
		return 1, true
	case "ml":
		return 1e-3, true
	case "gal", "gallon", "gallons":
		return gallon, true
	case "qt", "quart", "quarts":
		return gallon / 4, true
	}
	return 0, false
}

// Litres reads a volume with its unit, as in "3 l" or "2.4 gal" (US), in litres.
func Litres(text string) (float64, bool) {
	v, unit, ok := measure(strings.TrimSpace(text))
	scale, known := litres(unit)
	return v * scale, ok && known
}

// volume reads the volume under key in litres.
func (s section) volume(key string, into *float64) {
	s.measured(key, "volume", "write it as 9 l, 9 qt or 2.4 gal (US)", litres, func(n node, v, scale float64) {
		if s.r.atLeast(n, v, overZero) {
			*into = v * scale
		}
	})
}

// celsius reads the temperature under key, as in 20 C or 68 F.
func (s section) celsius(key string, into *float64) (given bool) {
	n, ok := s.get(key)
	if !ok {
		return false
	}
	t, ok := s.r.word(n, "a temperature")
	if !ok {
		return false
	}
	v, unit, ok := measure(t)
	unit = strings.ToUpper(strings.TrimPrefix(unit, "°"))
	switch {
	case !ok:
		s.r.complain(n, table.Quote(t)+" is not a temperature", "write it as 20 C or 68 F")
	case unit == "C":
		*into = v
		return true
	case unit == "F":
		*into = (v - 32) / 1.8
		return true
	case unit == "":
		s.r.complain(n, t+" has no unit", "write "+t+" C or "+t+" F")
	default:
		s.r.complain(n, table.Quote(unit)+" is not a unit of temperature that is known here", "write it as 20 C or 68 F")
	}
	return false
}

// upOf is the direction that is up when the machine stands level.
func upOf(word string) r3.Vector {
	v := map[byte]r3.Vector{'x': {X: 1}, 'y': {Y: 1}, 'z': {Z: 1}}[strings.ToLower(word)[1]]
	if word[0] == '-' {
		return v.Mul(-1)
	}
	return v
}
