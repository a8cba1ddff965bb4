package length

import "testing"

func BenchmarkParse(b *testing.B) {
	for _, text := range []string{"184.15", `7 1/4"`, `1' 3-1/2"`, "4-Jan"} {
		b.Run(text, func(b *testing.B) {
			for b.Loop() {
				Parse(text, Inch, false)
			}
		})
	}
}
