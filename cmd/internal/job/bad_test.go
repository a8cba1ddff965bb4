package job

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "rewrite the wanted texts")

// bad holds a folder for each mistake: a job and, in want.txt, the whole text
// that its writer gets to read.
const bad = "../../../testdata/bad"

func TestBadJobs(t *testing.T) {
	folders, err := filepath.Glob(filepath.Join(bad, "*", Name))
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(folders), 50)
	for _, file := range folders {
		folder := filepath.Dir(file)
		t.Run(filepath.Base(folder), func(t *testing.T) {
			t.Chdir(folder)
			_, err := Load(".")
			require.Error(t, err)
			got := err.Error() + "\n"
			if *update {
				require.NoError(t, os.WriteFile("want.txt", []byte(got), 0o644))
			}
			want, err := os.ReadFile("want.txt")
			require.NoError(t, err)
			assert.Equal(t, string(want), got)
		})
	}
}
