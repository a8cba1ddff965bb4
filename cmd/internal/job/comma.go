package job

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"elbowroom/survey/length"
	"elbowroom/survey/table"
)

// behindComma is what stands behind a decimal comma: digits, and perhaps a unit.
var behindComma = regexp.MustCompile(`^([0-9]+)( ?[\pL"'′″°%]+)?$`)

// beforeComma is what stands before one.
var beforeComma = regexp.MustCompile(`^[-+]?[0-9]+$`)

// commas finds in a mapping in braces the numbers with a decimal comma: there
// the comma parts keys, so that what stands behind it became a key without a
// value. It complains of each and leaves their keys out; what stands before the
// comma counts as refused.
func (r *reader) commas(keys []entry) []entry {
	var out []entry
	for i, k := range keys {
		if i > 0 && r.comma(keys[i-1], k) {
			out[len(out)-1].value.kind = refused
			continue
		}
		out = append(out, k)
	}
	return out
}

// comma says whether a key is what stands behind a decimal comma, and complains.
func (r *reader) comma(key, behind entry) bool {
	before := key.value
	parts := behindComma.FindStringSubmatch(behind.name)
	if parts == nil || behind.value.kind != nothing || before.kind != scalar || !beforeComma.MatchString(before.text) ||
		before.pos.Line != behind.pos.Line || before.pos.Column+len(before.text)+1 != behind.pos.Column {
		return false
	}
	mend := "write " + before.text + "." + behind.name
	if fraction, ok := fractionOf(parts[1]); ok && parts[2] == "" && (r.unit == length.Inch || r.unit == length.Foot) {
		if whole := strings.TrimLeft(before.text, "+-0"); whole != "" {
			fraction = before.text + " " + fraction
		} else if before.text[0] == '-' {
			fraction = "-" + fraction
		}
		mend += " or " + fraction
	}
	read := node{pos: before.pos, path: before.path, text: before.text + "," + behind.name}
	r.complain(read, table.Quote(read.text)+" has a decimal comma, and here a comma parts keys", mend)
	return true
}

// fractionOf writes decimals as people read them off a rule, in 64ths or coarser;
// ok is false where they are none.
func fractionOf(decimals string) (text string, ok bool) {
	const parts = 64
	value, err := strconv.ParseFloat("0."+decimals, 64)
	n := int(value * parts)
	if err != nil || n == 0 || value*parts != float64(n) { // 64ths are exact in binary
		return "", false
	}
	d := parts
	for n%2 == 0 {
		n, d = n/2, d/2
	}
	return fmt.Sprintf("%d/%d", n, d), true
}
