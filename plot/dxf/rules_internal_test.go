package dxf

import (
	"bytes"
	"errors"
	"testing"

	"github.com/stretchr/testify/require"
)

func FuzzParseRules(f *testing.F) {
	const head = "AUTHOR: a\nUNITS: METRIC\nGRADE RULE TABLE: T\nNUMBER OF SIZES: 2\nSIZE LIST: 36 38\nSAMPLE SIZE: 38\n"
	f.Add([]byte(head + "RULE: DELTA 1\n-5.00,2.5\n0,0\nRULE: DELTA 12 1,-1 0,0\nEND\n"))
	f.Add([]byte("units english\r\nsize list S, M / L;\r\nXL\r\nsample size:XL\r\ndelta 3\r\n1e1 2\t3;4\r\n0,0"))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := ParseRules(bytes.NewReader(data))
		if err != nil {
			var syntax *SyntaxError
			require.True(t, errors.As(err, &syntax))
			require.Positive(t, syntax.Line)
			require.Nil(t, r)
			return
		}
		require.Contains(t, r.Sizes, r.Sample)
		for _, deltas := range r.Deltas {
			require.Len(t, deltas, len(r.Sizes))
		}
		// Spelling and decimals settle when it is written: then it stays as it is.
		first, err := ParseRules(bytes.NewReader(r.text(nil, Metric)))
		if err != nil {
			return // names in signs that ASCII has not, and more than 10 m in inches
		}
		settled := first.text(nil, Metric)
		again, err := ParseRules(bytes.NewReader(settled))
		require.NoError(t, err)
		require.Equal(t, first, again)
		require.Equal(t, settled, again.text(nil, Metric))
	})
}
