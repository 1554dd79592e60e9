package style

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestLengthsAreWrittenInTheUnit(t *testing.T) {
	for _, c := range []struct {
		unit        Unit
		mm          float64
		text, short string
	}{
		{Millimetre, 60, "60.0", "60"},
		{Millimetre, 54.26, "54.3", "54.3"},
		{Centimetre, 60, "6.00", "6"},
		{Centimetre, 54.26, "5.43", "5.43"},
		{Inch, 57.15, "2.250", "2.25"},
		{Inch, 0, "0.000", "0"},
	} {
		require.Equal(t, c.text, c.unit.Text(c.mm))
		require.Equal(t, c.short, c.unit.Short(c.mm))
	}
}

func TestNumbersAreNotTakenForOneAnother(t *testing.T) {
	require.Empty(t, Nearest("39", []string{"34", "36", "38"}))
	require.Equal(t, "38-tall", Nearest("38-tal", []string{"34-tall", "38-tall"}))
}
