package empty

import (
	"context"
	"fmt"
	"slices"
	"testing"
)

func BenchmarkBest(b *testing.B) {
	for _, n := range []int{500, 5000} {
		for name, blocks := range map[string][]Box{"bay": bay(n, 1), "uniform": uniform(n, bench, 1), "crossed": crossed(n)} {
			b.Run(fmt.Sprintf("%s-%d", name, n), func(b *testing.B) {
				var a Answer
				for b.Loop() {
					a, _ = Best(context.Background(), Problem{Domain: bench, Blocks: blocks}, Effort{})
				}
				b.ReportMetric(float64(a.Nodes), "rooms")
				b.ReportMetric(a.Value.Float()/1e15, "litres")
			})
		}
	}
}

func BenchmarkEnumerate(b *testing.B) {
	for _, n := range []int{500, 5000} {
		for name, blocks := range map[string][]Box{"bay": bay(n, 1), "uniform": uniform(n, bench, 1), "crossed": crossed(n / 10)} {
			p := Problem{Domain: bench, Blocks: blocks}
			for what, least := range map[string]int64{"all": 0, "over50mm": 50 * mm} {
				p.Min = Size{least, least}
				b.Run(fmt.Sprintf("%s-%d-%s", name, len(blocks), what), func(b *testing.B) {
					var rooms []Box
					for b.Loop() {
						rooms, _ = Enumerate(context.Background(), p, Guard{})
					}
					b.ReportMetric(float64(len(rooms)), "rooms")
				})
			}
		}
	}
}

// A scan of a million points bare and with strays: from the points in memory
// to the proof, and then the boxes if up to five of the strays were noise.
func BenchmarkScan(b *testing.B) {
	clean := scanned(1_000_000, bayPoint, 1)
	dirty := append(slices.Clone(clean), scanned(30, anywhere, 2)...)
	for _, c := range []struct {
		name string
		xyz  []float32
		keep int64
	}{{"clean", clean, 0}, {"clean-gap5mm", clean, 5 * mm}, {"strays", dirty, 0}} {
		keep := Point{c.keep, c.keep, c.keep}
		b.Run(c.name, func(b *testing.B) {
			var a Answer
			for b.Loop() {
				a, _ = scanOf(b, Problem{Domain: bench}, keep, c.xyz).Best(context.Background(), Effort{})
			}
			b.ReportMetric(float64(a.Nodes), "rooms")
			b.ReportMetric(a.Value.Float()/1e15, "litres")
		})
		b.Run(c.name+"-ignore5", func(b *testing.B) {
			s := scanOf(b, Problem{Domain: bench}, keep, c.xyz)
			var all []Answer
			for b.Loop() {
				all, _ = s.Strays(context.Background(), 5, Effort{})
			}
			for k, a := range all {
				b.ReportMetric(a.Value.Float()/1e15, fmt.Sprint("litres", k))
			}
			b.ReportMetric(float64(all[5].Nodes), "rooms")
		})
	}
}
