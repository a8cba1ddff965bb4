package main

import (
	"strconv"

	"github.com/golang/geo/r3"

	"elbowroom/solid/shape"
)

// text is a pair as family,shape,shape in the form of pair.h, with hexadecimal
// floats.
func text(p pair) string { return p.family + "," + shapeText(p.a) + "," + shapeText(p.b) }

func shapeText(c shape.Convex) string {
	out := "box"
	if h, ok := c.(shape.Hull); ok {
		out = "hull " + hex(h.Grow)
	}
	for _, f := range numbers(c) {
		out += " " + hex(f)
	}
	return out
}

// numbers are a box's corner and edges, or a hull's Behind and points.
func numbers(c shape.Convex) (out []float64) {
	var points []r3.Vector
	switch c := c.(type) {
	case shape.Box:
		points = append([]r3.Vector{c.Corner}, c.Edges[:]...)
	case shape.Hull:
		points = append([]r3.Vector{c.Behind}, c.Points...)
	}
	for _, v := range points {
		out = append(out, v.X, v.Y, v.Z)
	}
	return out
}

// hex is 0 for both zeros.
func hex(f float64) string {
	if f == 0 {
		return "0"
	}
	return strconv.FormatFloat(f, 'x', -1, 64)
}
