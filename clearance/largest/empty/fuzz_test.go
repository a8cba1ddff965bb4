package empty

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"
)

// fuzzed makes a small problem of bytes: what kind, then six bytes a block.
func fuzzed(data []byte) (Problem, bool) {
	const size = 16
	if len(data) < 8 || len(data) > 8+6*10 {
		return Problem{}, false
	}
	p := Problem{Domain: Box{Hi: Point{size, size, size}}, Free: data[0]&1 > 0}
	if data[0]&2 > 0 {
		p.Domain = Flat(0, 0, size, size)
	}
	p.Min = Size{int64(data[1] % 8), int64(data[2] % 8)}
	if data[3] > 0 {
		p.Max = Size{8 + int64(data[3]%8)}
	}
	p.Step[1] = int64(data[4] % 4)
	if data[5] > 0 {
		p.Aspect = Size{int64(data[5] % 4), int64(data[5] / 4 % 4)}
	}
	if data[6] > 0 {
		at := Point{int64(data[6] % 17), int64(data[6] / 17 % 17), 0}
		p.Holds = &Box{at, at}
	}
	p.Ignore = int(data[7] % 2)
	for data = data[8:]; len(data) >= 6; data = data[6:] {
		var b Box
		for a := range 3 {
			b.Lo[a] = int64(data[a]%24) - 4
			b.Hi[a] = b.Lo[a] + int64(data[a+3]%6)
		}
		p.Blocks = append(p.Blocks, b)
	}
	return p, true
}

// FuzzBest compares Best with exhaustion, and the list and the scan with Best.
func FuzzBest(f *testing.F) {
	f.Add([]byte("\x00\x00\x00\x00\x00\x00\x00\x00" + "\x08\x08\x08\x00\x00\x00"))
	f.Add([]byte("\x01\x00\x00\x00\x00\x00\x00\x01" + "\x08\x08\x08\x02\x02\x02" + "\x04\x04\x04\x00\x00\x00"))
	f.Add([]byte("\x02\x02\x01\x00\x03\x00\x00\x00" + "\x06\x09\x00\x00\x00\x02" + "\x0b\x06\x00\x00\x03\x02"))
	f.Add([]byte("\x00\x00\x00\x05\x00\x06\x90\x01" + "\x0c\x0c\x0a\x01\x00\x00" + "\x0c\x0c\x0a\x01\x00\x00"))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, ok := fuzzed(data)
		if !ok {
			t.Skip()
		}
		places := map[Box]bool{}
		unlike := p.Blocks[:0:0]
		for _, b := range p.Blocks {
			if !places[b] {
				unlike = append(unlike, b)
			}
			places[b] = true
		}
		p.Blocks = unlike
		a := best(t, p)
		require.Equal(t, withoutAny(p, p.Ignore, 0), a.Value)
		if p.Ignore == 0 && a.Found() {
			checkAnswer(t, "fuzzed", p, a)
		}
		if p.Free {
			return
		}
		s, err := NewScan(Problem{Domain: p.Domain, Min: p.Min, Max: p.Max, Step: p.Step, Aspect: p.Aspect, Holds: p.Holds, Ignore: p.Ignore}, Point{})
		require.NoError(t, err)
		points := p
		points.Blocks = nil
		for b := range places {
			s.Add([]float64{float64(b.Lo[0]), float64(b.Lo[1]), float64(b.Lo[2])}, 1)
			points.Blocks = append(points.Blocks, Box{b.Lo, b.Lo})
		}
		scanned, err := s.Best(context.Background(), Effort{})
		require.NoError(t, err)
		require.Equal(t, best(t, points).Value, scanned.Value)
	})
}
