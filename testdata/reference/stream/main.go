// Stream makes pairs of planar shapes for the exact programs beside it, and
// holds shape.Distance against their answers.
//
//	stream -n 1000000 | signs > signs.txt
//	stream -n 1000000 | programs > programs.txt
//	stream -n 1000000 -signs signs.txt -programs programs.txt
package main

import (
	"bufio"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"
)

func main() {
	n := flag.Uint64("n", 1_000_000, "how many pairs")
	from := flag.Uint64("from", 0, "number of the first pair")
	seed := flag.Uint64("seed", 1, "of the random numbers")
	signs := flag.String("signs", "", "what signs answered (without: print the pairs)")
	programs := flag.String("programs", "", "what programs answered (without: distances are not compared)")
	show := flag.Int("show", 20, "how many wrong pairs to print")
	each := flag.Int("sample", 0, "print so many pairs of each family instead, with their answers")
	also := flag.String("also", "", "numbers of pairs that are part of the sample, separated by spaces")
	flag.Parse()
	run := job{n: *n, from: *from, seed: *seed, show: *show, each: *each, signs: *signs, programs: *programs, also: strings.Fields(*also)}
	if err := run.do(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

type job struct {
	n, from, seed   uint64
	show, each      int
	signs, programs string
	also            []string
}

func (j job) do() error {
	out := bufio.NewWriter(os.Stdout)
	defer out.Flush()
	if j.signs == "" {
		return j.print(out)
	}
	in, err := openAnswers(j.signs, j.programs)
	if err != nil {
		return err
	}
	defer in.close()
	if j.each > 0 {
		return j.sample(in, out)
	}
	return j.compare(in, out)
}

func (j job) print(out io.Writer) error {
	for i := j.from; i < j.from+j.n; i++ {
		if _, err := fmt.Fprintln(out, text(newPair(j.seed, i))); err != nil {
			return err
		}
	}
	return nil
}
