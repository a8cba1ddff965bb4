// Package length reads lengths as people write them and prints them in the
// job's unit, rounded to the safe side. It is the only place that converts
// and rounds. Inside the program every length is a float64 in millimetres.
package length
