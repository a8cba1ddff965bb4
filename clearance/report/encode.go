package report

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"unicode"
)

// number is a number that is null where it is none: JSON has no word for what
// is infinite or not a number.
type number float64

// MarshalJSON writes all digits that the number needs.
func (n number) MarshalJSON() ([]byte, error) {
	if f := float64(n); !math.IsNaN(f) && !math.IsInf(f, 0) {
		return json.Marshal(f)
	}
	return []byte("null"), nil
}

// known is a number, or nil where ok is false.
func known(x float64, ok bool) *number {
	if !ok {
		return nil
	}
	n := number(x)
	return &n
}

// field is a key of an object with its value.
type field struct {
	key   string
	value any
}

// rows is a list of which each entry stands on its own line.
type rows []any

func rowsOf[T any](list []T) rows {
	out := rows{}
	for _, v := range list {
		out = append(out, v)
	}
	return out
}

// object writes an object with each key on its own line.
func object(fields []field) (string, error) {
	var b strings.Builder
	b.WriteString("{\n")
	for i, f := range fields {
		text, err := value(f.value)
		if err != nil {
			return "", fmt.Errorf("%s: %w", f.key, err)
		}
		fmt.Fprintf(&b, "  %q: %s", f.key, text)
		if i < len(fields)-1 {
			b.WriteByte(',')
		}
		b.WriteByte('\n')
	}
	b.WriteString("}\n")
	return b.String(), nil
}

func value(v any) (string, error) {
	list, ok := v.(rows)
	if !ok || len(list) == 0 {
		return compact(v)
	}
	lines := make([]string, len(list))
	for i, entry := range list {
		text, err := compact(entry)
		if err != nil {
			return "", err
		}
		lines[i] = "    " + text
	}
	return "[\n" + strings.Join(lines, ",\n") + "\n  ]", nil
}

// compact writes a value on one line. Characters that could steer a terminal or
// turn the direction of writing can only stand inside a string, and are
// written as escapes there.
func compact(v any) (string, error) {
	data, err := json.Marshal(v)
	if err != nil {
		return "", err
	}
	var b strings.Builder
	for _, r := range string(data) {
		if unicode.IsPrint(r) {
			b.WriteRune(r)
		} else {
			b.WriteString(escape(r))
		}
	}
	return b.String(), nil
}

// escape writes a character as JSON does: in UTF-16, in hexadecimal.
func escape(r rune) string {
	if r < 0x10000 {
		return fmt.Sprintf(`\u%04x`, r)
	}
	r -= 0x10000
	return fmt.Sprintf(`\u%04x\u%04x`, 0xd800+r>>10, 0xdc00+r&0x3ff)
}
