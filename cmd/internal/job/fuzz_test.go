package job

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// FuzzDecode: whatever the text, there is a job or there are problems, each with
// its place in the text and words of its own.
func FuzzDecode(f *testing.F) {
	for _, pattern := range []string{"testdata/*/" + Name, bad + "/*/" + Name} {
		files, err := filepath.Glob(pattern)
		require.NoError(f, err)
		for _, file := range files {
			data, err := os.ReadFile(file)
			require.NoError(f, err)
			f.Add(string(data))
		}
	}
	points, err := os.ReadFile("testdata/full/points.csv")
	require.NoError(f, err)
	files := map[string]string{"points.csv": string(points), "../points.csv": string(points), "tape.csv": "from,to,tape\n"}
	f.Fuzz(func(t *testing.T, text string) {
		j, problems := decode(Name, []byte(text), memory(files))
		if len(problems) == 0 {
			require.Positive(t, j.Tank.Size.Width)
			require.GreaterOrEqual(t, j.Rules.Sure, leastSure)
			require.NotEmpty(t, j.Readings.Features)
			return
		}
		lines := strings.Count(text, "\n") + strings.Count(text, "\r") + 1
		for _, p := range problems {
			require.NotEmpty(t, p.What)
			require.NotEmpty(t, p.Mend)
			require.NotEmpty(t, p.Pos.File)
			if p.Pos.File == Name {
				require.LessOrEqual(t, p.Pos.Line, lines, "%v", p)
			}
			require.NotContains(t, p.Error(), "\n")
		}
	})
}
