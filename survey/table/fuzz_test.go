package table

import (
	"strings"
	"testing"
	"unicode/utf8"
)

func FuzzParse(f *testing.F) {
	f.Fuzz(func(t *testing.T, data []byte) {
		got, problems := Parse("f.csv", data)
		for _, p := range problems {
			if p.What == "" || p.Mend == "" || !utf8.ValidString(p.Error()) {
				t.Fatalf("problem without words: %q", p.Error())
			}
		}
		text := strings.ReplaceAll(strings.TrimPrefix(string(data), "\ufeff"), "\r\n", "\n")
		lines := strings.Split(strings.ReplaceAll(text, "\r", "\n"), "\n")
		last := 0
		for _, row := range got.Rows {
			if len(row.Cells) != len(got.Columns) || row.Pos.Line <= last {
				t.Fatalf("row %v has %d of %d cells", row.Pos, len(row.Cells), len(got.Columns))
			}
			last = row.Pos.Line
			empty := true
			for _, cell := range row.Cells {
				empty = empty && cell.Text == ""
				checkPlace(t, lines, cell)
			}
			if empty {
				t.Fatalf("row %v has no text", row.Pos)
			}
		}
		if again, more := Parse("f.csv", data); len(again.Rows) != len(got.Rows) || more.Error() != problems.Error() {
			t.Fatal("read twice, not the same")
		}
	})
}

// checkPlace holds a cell against the file: at its place stands its first
// character or an opening quote.
func checkPlace(t *testing.T, lines []string, cell Cell) {
	t.Helper()
	if cell.Pos.Line < 1 || cell.Pos.Line > len(lines) {
		t.Fatalf("%v is not in the file", cell.Pos)
	}
	line := []rune(lines[cell.Pos.Line-1])
	if cell.Pos.Column < 1 || cell.Pos.Column > len(line)+1 {
		t.Fatalf("%v is not in its line", cell.Pos)
	}
	if cell.Text != trim(cell.Text) {
		t.Fatalf("%q has outer blanks", cell.Text)
	}
	if first, _ := utf8.DecodeRuneInString(cell.Text); cell.Text != "" && line[cell.Pos.Column-1] != first && line[cell.Pos.Column-1] != '"' {
		t.Fatalf("%q is not at %v", cell.Text, cell.Pos)
	}
}
