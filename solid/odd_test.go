package solid

import (
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// numbers finds every number in a value, however deep.
func numbers(v reflect.Value) []reflect.Value {
	var all []reflect.Value
	switch v.Kind() {
	case reflect.Float64:
		return []reflect.Value{v}
	case reflect.Struct:
		for i := range v.NumField() {
			all = append(all, numbers(v.Field(i))...)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			all = append(all, numbers(v.Index(i))...)
		}
	case reflect.Interface:
		copied := reflect.New(v.Elem().Type()).Elem()
		copied.Set(v.Elem())
		return numbers(copied)
	}
	return all
}

// Every number of a tank made odd in turn: either it is refused, or nothing that
// is built of it is.
func TestNothingOddGetsThrough(t *testing.T) {
	pattern := sound()
	count := len(numbers(reflect.ValueOf(&pattern).Elem()))
	require.Greater(t, count, 40)
	for i := range count {
		for _, odd := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300, math.MaxFloat64, 1e-300, -1} {
			tank := sound()
			numbers(reflect.ValueOf(&tank).Elem())[i].SetFloat(odd)
			a, err := Build(tank)
			if err != nil {
				assert.NotContains(t, err.Error(), "%!")
				assert.NotContains(t, err.Error(), "NaN")
				assert.NotContains(t, err.Error(), "Inf")
				continue
			}
			a.Tank = Tank{}
			for _, n := range numbers(reflect.ValueOf(a).Elem()) {
				assert.True(t, finite(n.Float()), "number %d of the tank made %v", i, odd)
			}
		}
	}
}
