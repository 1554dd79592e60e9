package dxf_test

import (
	"errors"
	"os"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/require"

	"engrail/motif/path"
	"engrail/plot/dxf"
)

// The keys are those of ASTM D6673's rule table as public notes on it quote
// them.
const ruleTable = `ASTM/D13 Proposal 1 Version: D6673-10
AUTHOR: bench;table;1
CREATION DATE: 09-03-2026
CREATION TIME: 14:05
UNITS: METRIC
GRADE RULE TABLE: SEDGE
NUMBER OF SIZES: 3
SIZE LIST: 36 38 40
SAMPLE SIZE: 38
RULE: DELTA 1
-5.00,2.50
0.00,0.00
5.00,-2.50
RULE: DELTA 7
0.00,0.00
0.00,0.00
0.00,12.00
END
`

func TestRuleTableIsReadHoweverItIsSpelled(t *testing.T) {
	want := &dxf.Rules{
		Table: "SEDGE", UnitMM: 1, Sizes: []string{"36", "38", "40"}, Sample: "38",
		Deltas: map[int][]path.Vec{1: {{X: -5, Y: 2.5}, {}, {X: 5, Y: -2.5}}, 7: {{}, {}, {Y: 12}}},
	}
	for name, table := range map[string]string{
		"as the standard has it": ruleTable,
		"CR LF":                  strings.ReplaceAll(ruleTable, "\n", "\r\n"),
		"no end, end of text":    strings.ReplaceAll(ruleTable, "END\n", "\x1a"),
		"byte order mark":        "\ufeff" + ruleTable,
		"lower case":             strings.NewReplacer("sedge", "SEDGE").Replace(strings.ToLower(ruleTable)),
		"spaces":                 "\n" + strings.NewReplacer(":", "  :  ", ",", " , ", "\n", " \n\n\t", "SIZE LIST", "SIZE \t LIST").Replace(ruleTable),
		"no colons":              strings.NewReplacer("UNITS:", "UNITS", "LIST:", "LIST", "SIZES:", "SIZES", "SAMPLE SIZE:", "SAMPLE SIZE", "TABLE:", "TABLE", "RULE:", "RULE").Replace(ruleTable),
		"rows":                   strings.NewReplacer("-2.50\n", "-2.50\n", "2.50\n", "2.50 ", "00\n0", "00 0", "00\n5", "00; 5", "DELTA 1\n", "DELTA 1  ").Replace(ruleTable),
		"only deltas":            strings.ReplaceAll(ruleTable, "RULE: DELTA", "DELTA"),
		"list in several lines":  strings.ReplaceAll(ruleTable, "36 38 40", "\n36, 38,\n40"),
		"no number of sizes":     strings.ReplaceAll(ruleTable, "NUMBER OF SIZES: 3\n", ""),
		"no blanks, exponents":   strings.NewReplacer("-5.00", "-.5e1", ": ", ":").Replace(ruleTable),
		"more after the end":     ruleTable + "anything\n",
		"sample that is rounded": strings.Replace(ruleTable, "0.00,0.00", "0.01,0.00", 1),
	} {
		got, err := dxf.ParseRules(strings.NewReader(table))
		require.NoError(t, err, name)
		require.Equal(t, want, got, name)
	}
	inches, err := dxf.ParseRules(strings.NewReader(strings.ReplaceAll(ruleTable, "METRIC", "English")))
	require.NoError(t, err)
	require.InDelta(t, 25.4, inches.UnitMM, 0)
	named, err := dxf.ParseRules(strings.NewReader(strings.NewReplacer("36 38 40", "extra small, M / L, X-large", "SIZE: 38", "SIZE: M / L").Replace(ruleTable)))
	require.NoError(t, err)
	require.Equal(t, []string{"extra small", "M / L", "X-large"}, named.Sizes)
}

func TestRuleTableThatIsNotWholeIsRefusedWithItsLine(t *testing.T) {
	for _, c := range []struct{ old, with, want string }{
		{"UNITS: METRIC", "UNITS: FEET", `line 5: units "FEET" are neither METRIC nor ENGLISH`},
		{"SIZES: 3", "SIZES: 4", "line 8: the size list has 3 sizes, and line 7 says 4"},
		{"SIZES: 3", "SIZES: many", `line 7: "many" is not a number of sizes from 1 to 500`},
		{"SIZES: 3", "SIZES: 501", `line 7: "501" is not a number of sizes from 1 to 500`},
		{"36 38 40", "38 38 40", `line 8: size "38" is in the size list twice`},
		{"NUMBER OF SIZES: 3\nSIZE LIST: 36 38 40", "SIZE LIST:", "line 7: the size list has no sizes"},
		{"SIZE LIST: 36 38 40", "", "line 18: the table has no size list: write SIZE LIST: and the names of the sizes"},
		{"SIZE LIST: 36 38 40", "SIZE LIST: 36\nSIZE LIST: 38", "line 9: a second size list, after the one in line 8: leave one of them"},
		{"SAMPLE SIZE: 38", "SAMPLE SIZE: 39", `line 9: sample size "39" is not in the size list 36, 38, 40`},
		{"SAMPLE SIZE: 38", "", "line 1: the table does not say its sample size: write SAMPLE SIZE: and the name of the size that is drawn"},
		{"RULE: DELTA 7", "RULE: DELTA 1", "line 14: rule 1 again, after the one in line 10: give one of them another number"},
		{"RULE: DELTA 7", "RULE: DELTA x", `line 14: "x" is not the number of a rule: write RULE: DELTA and a whole number`},
		{"RULE: DELTA 7", "RULE: RATIO 7", `line 14: rule "RATIO 7" is not DELTA with a number: only deltas are read`},
		{"5.00,-2.50\n", "", "line 10: rule 1 has 4 numbers and the table 3 sizes: write one x,y for each size"},
		{"5.00,-2.50\n", "5.00\n", "line 10: rule 1 has 5 numbers and the table 3 sizes: write one x,y for each size"},
		{"5.00,-2.50\n", "5.00,-2.50\n1,1\n", "line 10: rule 1 has 8 numbers and the table 3 sizes: write one x,y for each size"},
		{"5.00,-2.50", "5.00,NaN", `line 13: "NaN" in rule 1 is not a number up to 10000: no grade point moves so far`},
		{"5.00,-2.50", "5.00,-1e5", `line 13: "-1e5" in rule 1 is not a number up to 10000: no grade point moves so far`},
		{"5.00,-2.50", "5.00,-1e999", `line 13: "-1e999" in rule 1 is not a number up to 10000: no grade point moves so far`},
		{"5.00,-2.50", "5.00,wide", `line 13: "wide" in rule 1 is not a number: write x,y for each size, with a point for decimals`},
		{"0.00,0.00", "1.00,0.00", "line 10: rule 1 moves its point by 1,0 in the sample size 38: deltas count from the sample size, where they are 0,0"},
		{ruleTable[strings.Index(ruleTable, "RULE: DELTA 1"):], "", "line 9: the table has no rules: write RULE: DELTA 1 and one x,y for each size"},
		{ruleTable, "", "line 1: the table has no size list: write SIZE LIST: and the names of the sizes"},
		{"5.00,-2.50", strings.Repeat("1,1 ", 501), "line 13: rule 1 has deltas for more than 500 sizes"},
		{"NUMBER OF SIZES: 3\nSIZE LIST: 36 38 40", "SIZE LIST:" + strings.Repeat(" 1", 501), "line 7: the size list has more than 500 sizes"},
	} {
		require.Contains(t, ruleTable, c.old)
		table := strings.Replace(ruleTable, c.old, c.with, 1)
		got, err := dxf.ParseRules(strings.NewReader(table))
		require.EqualError(t, err, "dxf: rule table, "+c.want, "%s", table)
		require.Nil(t, got)
		var syntax *dxf.SyntaxError
		require.True(t, errors.As(err, &syntax))
	}
	// Not one byte more than the limit is kept of a file without end.
	_, err := dxf.ParseRules(&repeating{[]byte("0,0\n"), 0})
	require.EqualError(t, err, "dxf: rule table, line 1: the file is larger than 16777216 bytes: is it a rule table?")
	_, err = dxf.ParseRules(iotest.ErrReader(os.ErrClosed))
	require.ErrorIs(t, err, os.ErrClosed)
}
