package report

import "elbowroom/clearance"

// caution is a fixed text with what calls for it.
type caution struct{ trigger, text string }

// cautionTexts lists the fixed texts in the order in which they are printed.
func cautionTexts() []caution {
	return []caution{
		{"cap pressure", "Hot coolant boils the moment its pressure goes: take the cap off only when the engine is below 50 C (122 F). Test the box with water, never with compressed air. Whether it stands the pressure is not judged here; have that answered by someone licensed to."},
		{"line", "Keep everything away from brake and fuel lines, and hang nothing on them. Any work on them goes by your local rules and to a licensed hand."},
		{"hot", "Measure with the engine cold. Heat reaches across a gap, so the gap alone may not do: go by the maker's data for shields and distances."},
		{"motion", "Watch a running engine from outside the bay, with a helper on the brake. Keep sleeves, hair and tape away from belts and fan."},
		{"battery", "Disconnect the battery before you work near it. Vent its box to the outside: a battery on charge gives off a gas that explodes."},
		{"wiring", "Fuse every wire at its source."},
		{"sheet", "Before welding, clean aluminium with acetone and a clean stainless brush. Never use a chlorinated cleaner: an arc makes poison gas of it. Never weld what has held fuel. Cover eyes, skin and hands, and draw the fumes away."},
		{"always", "This tool checks geometry, from your readings and nothing else. The maker's data, local rules and licensed practice come first."},
	}
}

// CautionTriggers lists what can call for a caution, in the order in which the
// cautions are printed.
func CautionTriggers() []string {
	var out []string
	for _, c := range cautionTexts() {
		out = append(out, c.trigger)
	}
	return out
}

// CautionText is the fixed text that a trigger calls for; ok is false for a
// trigger that is not known.
func CautionText(trigger string) (text string, ok bool) {
	for _, c := range cautionTexts() {
		if c.trigger == trigger {
			return c.text, true
		}
	}
	return "", false
}

// Cautions are the texts of a report's cautions. One that brings its own text
// keeps it; one whose trigger has no text is shown as that trigger, so that
// none is lost.
func Cautions(list []clearance.Caution) []string {
	texts := []string{}
	for _, c := range list {
		text := c.Text
		if text == "" {
			text = c.Trigger
			if fixed, ok := CautionText(c.Trigger); ok {
				text = fixed
			}
		}
		texts = append(texts, text)
	}
	return texts
}
