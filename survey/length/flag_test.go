package length

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestFlag(t *testing.T) {
	var f Flag
	var _ interface { // pflag.Value
		Set(string) error
		String() string
		Type() string
	} = &f
	assert.False(t, f.Given())
	assert.Equal(t, "", f.String())
	assert.Equal(t, "length", f.Type())
	_, err := f.Value(Inch)
	assert.EqualError(t, err, "a length is missing; write it as in 7 1/4, 7.25 in or 184 mm")

	require.NoError(t, f.Set("7 1/4"))
	assert.True(t, f.Given())
	assert.Equal(t, "7 1/4", f.String())
	mm, err := f.Value(Inch)
	require.NoError(t, err)
	assert.Equal(t, 184.15, mm)

	require.NoError(t, f.Set("12,5"), "Set leaves complaints to Value")
	_, err = f.Value(Inch)
	assert.EqualError(t, err, `"12,5" is not a length; write the decimal point as 12.5`)

	require.NoError(t, f.Set(""))
	assert.True(t, f.Given())
}
