package length

// Flag is a length given on the command line. It keeps the text as typed, since
// its unit is known only when the job has been read; *Flag satisfies pflag's
// Value. The zero Flag was not given.
type Flag struct {
	text  string
	given bool
}

// Set keeps the text. It never fails, so that no library words a complaint;
// Value does, once the unit is known.
func (f *Flag) Set(text string) error {
	f.text, f.given = text, true
	return nil
}

// String is the text as typed.
func (f *Flag) String() string { return f.text }

// Type is the word that a command's help shows for the value.
func (f *Flag) Type() string { return "length" }

// Given says that the flag was given, if only with an empty text.
func (f *Flag) Given() bool { return f.given }

// Value is the length in millimetres; a bare number has the unit bare, and a
// comma is no decimal point. The error is always a *Mistake.
func (f *Flag) Value(bare Unit) (float64, error) {
	mm, err := Parse(f.text, bare, false)
	if m, ok := err.(*Mistake); ok {
		return 0, m.Alone()
	}
	return mm, nil
}
