package sheet

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestDensity(t *testing.T) {
	for alloy, want := range map[string]float64{
		"":                2700,
		"5052-H32":        2680, // 2.68 g/cm3, typical (Aluminum Association)
		"5052":            2680,
		"5052h32":         2680,
		"EN AW-5754 H111": 2670,
		"AA 3003":         2730,
		"1050A-H14":       2705,
		"6061-T6":         2700,
		"7075":            2810,
		"8011":            2700, // not in the table: aluminium at large
	} {
		got, ok := Density(alloy)
		assert.True(t, ok, alloy)
		assert.Equal(t, want, got, alloy)
	}
	for _, alloy := range []string{"steel", "304", "1.4301", "3.3535", "AlMg3", "9999", "50523", "H32", " "} {
		got, ok := Density(alloy)
		assert.False(t, ok, alloy)
		assert.Zero(t, got, alloy)
	}
}
