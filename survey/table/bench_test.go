package table

import (
	"strings"
	"testing"
)

func BenchmarkParse(b *testing.B) {
	data := []byte(points + strings.Repeat("wall,W1,7 1/4\",2.5,3,1/16,,by hand\n", 10_000))
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		Parse("f.csv", data)
	}
}
