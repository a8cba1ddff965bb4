package main

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"os"
	"strconv"
	"strings"
)

// answer is what the exact programs say of one pair.
type answer struct {
	sign     int
	depth    float64 // of an overlap, +Inf when no move parts the shapes
	plain    int     // the sign by the same steps in float64
	distance float64 // NaN when not asked
	program  int     // the sign by linear program
}

// answers reads what signs printed (sign,depth,plain) and, side by side, what
// programs printed (sign,distance).
type answers struct {
	files           []*os.File
	signs, programs *bufio.Scanner
}

func openAnswers(signs, programs string) (*answers, error) {
	a := &answers{}
	for i, name := range []string{signs, programs} {
		if name == "" {
			continue
		}
		f, err := os.Open(name)
		if err != nil {
			a.close()
			return nil, err
		}
		a.files = append(a.files, f)
		*[]**bufio.Scanner{&a.signs, &a.programs}[i] = bufio.NewScanner(f)
	}
	return a, nil
}

func (a *answers) close() {
	for _, f := range a.files {
		f.Close()
	}
}

func (a *answers) next() (answer, error) {
	out := answer{distance: math.NaN()}
	cell, err := cells(a.signs, 3)
	if err != nil {
		return out, err
	}
	var errs [5]error
	out.sign, errs[0] = strconv.Atoi(cell[0])
	out.depth, errs[1] = strconv.ParseFloat(cell[1], 64)
	out.plain, errs[2] = strconv.Atoi(cell[2])
	if a.programs != nil {
		if cell, err = cells(a.programs, 2); err != nil {
			return out, err
		}
		out.program, errs[4] = strconv.Atoi(cell[0])
		out.distance, errs[3] = strconv.ParseFloat(cell[1], 64)
	}
	for _, err := range errs {
		if err != nil {
			return out, err
		}
	}
	return out, nil
}

func cells(in *bufio.Scanner, n int) ([]string, error) {
	if !in.Scan() {
		return nil, fmt.Errorf("the answers end too early: %w", io.ErrUnexpectedEOF)
	}
	cell := strings.Split(in.Text(), ",")
	if len(cell) != n {
		return nil, fmt.Errorf("%q has not %d cells", in.Text(), n)
	}
	return cell, nil
}

// agrees says whether the exact programs agree with each other.
func (a answer) agrees() bool {
	return math.IsNaN(a.distance) || a.program == a.sign && (a.distance > 0) == (a.sign > 0)
}
