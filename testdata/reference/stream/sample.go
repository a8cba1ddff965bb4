package main

import (
	"fmt"
	"io"
	"slices"
)

// sample prints the first pairs of each family and sign that separating axes in
// plain float64 get wrong, and the pairs asked for by number, with their exact
// sign and depth.
func (j job) sample(in *answers, out io.Writer) error {
	count := map[string]int{}
	fmt.Fprintln(out, "family,a,b,sign,depth")
	for i := j.from; i < j.from+j.n; i++ {
		want, err := in.next()
		if err != nil {
			return err
		}
		p := newPair(j.seed, i)
		key := fmt.Sprint(p.family, want.sign)
		nasty := want.plain != want.sign && count[key] < j.each
		if nasty {
			count[key]++
		}
		if nasty || slices.Contains(j.also, fmt.Sprint(i)) {
			fmt.Fprintf(out, "%s,%d,%s\n", text(p), want.sign, hex(want.depth))
		}
	}
	return nil
}
