package network

import (
	"errors"
	"fmt"
	"strings"
)

// BadRow says that one row of a problem holds a number that cannot be used: an
// unknown number, an infinite one, or a standard uncertainty that is not above
// zero. Row counts from 0.
type BadRow struct {
	Row  int
	What string
}

func (e *BadRow) Error() string { return fmt.Sprintf("row %d: %s", e.Row, e.What) }

// Undetermined says that the observations leave some unknowns free: other
// values of them fit just as well. Columns are those unknowns, from 0, rising;
// Rank is how many independent unknowns the observations do settle.
type Undetermined struct {
	Columns []int
	Rank    int
}

func (e *Undetermined) Error() string {
	names := make([]string, len(e.Columns))
	for i, c := range e.Columns {
		names[i] = fmt.Sprint(c)
	}
	return "the observations do not settle the unknowns in columns " + strings.Join(names, ", ")
}

// Reasons why points have no plane. FitPlane returns them as they are.
var (
	ErrFewPoints  = errors.New("a plane needs three points or more")
	ErrCoincident = errors.New("all the points lie in one place")
	ErrCollinear  = errors.New("all the points lie on one line, and a plane can turn about it")
	ErrNoNormal   = errors.New("the points spread as much across every plane as along it, so none fits best")
)
