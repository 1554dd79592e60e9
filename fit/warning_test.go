package fit_test

import (
	"fmt"
	"testing"

	"engrail/fit"

	"github.com/stretchr/testify/require"
)

func TestWarningOfNoLevelIsAWarning(t *testing.T) {
	require.Equal(t, fit.LevelWarning, fit.Warning{}.Level)
}

func TestLevelsAreInOrder(t *testing.T) {
	levels := []fit.Level{fit.LevelFine, fit.LevelNote, fit.LevelWarning, fit.LevelError}
	require.IsIncreasing(t, levels)
	require.Equal(t, "[fine note warning error]", fmt.Sprint(levels))
}
