package hpgl

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestReadBoundsWhatItKeeps(t *testing.T) {
	for file, want := range map[string]string{
		strings.Repeat(" ", 2001):                   "hpgl: the file is larger than 2000 bytes: read its parts one by one",
		"PD" + strings.Repeat("1,1,", 100) + "1,1;": "hpgl: line 1, byte 402: a command with more than 200 numbers",
		strings.Repeat("PD;PU;", 101):               "hpgl: line 1, byte 600: more than 100 points: read the drawing's parts one by one",
		strings.Repeat("PD1,2,3,4;", 51):            "hpgl: line 1, byte 490: more than 100 points: read the drawing's parts one by one",
		strings.Repeat("LBa\x03", 101) + "PU":       "hpgl: line 1, byte 400: more than 100 points: read the drawing's parts one by one",
	} {
		_, err := read(strings.NewReader(file), ReadOptions{}, limits{bytes: 2000, points: 100, numbers: 200})
		require.EqualError(t, err, want)
	}
}
