package build_test

import (
	"reflect"
	"strings"
	"testing"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/style"
	"engrail/facing/advice"

	"github.com/stretchr/testify/require"
)

func TestEveryCheckCanBeAcceptedByItsName(t *testing.T) {
	f, ok := reflect.TypeFor[style.Style]().FieldByName("Accept")
	require.True(t, ok)
	require.Equal(t, strings.Join(advice.Names(), ","), f.Tag.Get("enum"))
}

func TestDemoAndStarterHaveNothingToWarnOf(t *testing.T) {
	for name, p := range map[string]*build.Plan{"demo": demoPlan(t), "starter": planOf(t, "starter.yaml", style.Starter())} {
		t.Run(name, func(t *testing.T) {
			r := p.Report()
			require.Empty(t, r.Warnings)
			require.Empty(t, r.Telling())
			require.NotEmpty(t, r.Checks, "notes")
		})
	}
}

// peaked is a panel whose straight hem turns by 23 degrees where it meets its copy.
func peaked(lines ...string) []byte {
	return []byte("engrail: 1\nstyle: Peaked\nmotif: {width: 50, depth: 12, flat: 2}\nseams: [[front finish, front finish]]\n" +
		"panels:\n  front: {gore: {waist: 400, hem: 500, length: 250, rise: 0}}\n" + strings.Join(lines, "\n") + "\n")
}

func TestCheckThatAWarningTellsIsNotToldTwice(t *testing.T) {
	r := planOf(t, "peaked.yaml", peaked()).Report()
	require.Len(t, r.Warnings, 1)
	require.Equal(t, "hem-turn", r.Warnings[0].Code)
	turn := remark(t, r, "hem-turn")
	require.Equal(t, build.Remark{
		Name: "hem-turn", Level: "warning", Message: "the hem turns by 22.6 degrees where it crosses the seam",
		Figures: []build.Figure{{"turn", 22.6199, "degrees"}, {"most", 3, "degrees"}}, Remedy: "true the hem to run smoothly across the seam",
		Where: "front finish, front finish",
	}, turn)
	require.Empty(t, r.Telling())
}

func TestAcceptedCheckIsListedAndNotWarnedOf(t *testing.T) {
	p := planOf(t, "peaked.yaml", peaked("facing: {favour: 0}", "accept: hem-turn"))
	r := p.Report()
	require.Empty(t, r.Warnings)
	require.True(t, remark(t, r, "hem-turn").Accepted)
	require.Equal(t, []build.Remark{remark(t, r, "no-favour")}, r.Telling())
	require.Equal(t, "the whole garment", r.Telling()[0].Where)
}

func remark(t *testing.T, r *build.Report, name string) build.Remark {
	for _, c := range r.Checks {
		if c.Name == name {
			return c
		}
	}
	t.Fatalf("the report has no check %s", name)
	return build.Remark{}
}
