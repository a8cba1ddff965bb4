package slip

import (
	"testing"

	"elbowroom/survey/length"
)

func BenchmarkCatalogue(b *testing.B) {
	for b.Loop() {
		Catalogue("14 3/8\"", 14.375*25.4, length.Inch, false)
	}
}
