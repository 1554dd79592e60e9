package strip_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"engrail/motif/path"
	"engrail/plot/marker/strip"

	"github.com/stretchr/testify/require"
)

// instances are the published ones in testdata, and how dense they were laid by two
// methods in 20 minutes (Gardeyn, Vanden Berghe and Wauters 2025, arXiv:2509.13329,
// tables 2 and 3: their own mean, and that of Elkeran 2013), in %.
var instances = []struct {
	name          string
	mean, elkeran float64
}{
	{"albano", 89.47, 87.47}, {"marques", 90.93, 89.40}, {"shirts", 89.66, 87.59}, {"trousers", 91.73, 89.02},
}

// instance reads a published one. The turns in degrees take the place of its own when
// there are any.
func instance(t testing.TB, name string, turns ...float64) strip.Problem {
	data, err := os.ReadFile(filepath.Join("..", "..", "..", "testdata", "plot-marker-strip", name+".json"))
	require.NoError(t, err)
	var in struct {
		Height float64 `json:"strip_height"`
		Items  []struct {
			Demand  int          `json:"demand"`
			Turns   []float64    `json:"allowed_orientations"`
			Polygon [][2]float64 `json:"polygon"`
		} `json:"items"`
	}
	require.NoError(t, json.Unmarshal(data, &in))
	p := strip.Problem{Height: in.Height}
	for _, i := range in.Items {
		item := strip.Item{Name: name, Demand: i.Demand}
		for _, q := range i.Polygon {
			item.Outline = append(item.Outline, path.Point{X: q[0], Y: q[1]})
		}
		if len(turns) > 0 {
			i.Turns = turns
		}
		for _, a := range i.Turns {
			item.Poses = append(item.Poses, strip.Pose{Turn: a * math.Pi / 180})
		}
		p.Items = append(p.Items, item)
	}
	return p
}

// density is the area of all items by that of the strip that they take, in %.
func density(p strip.Problem, l strip.Layout) float64 {
	sum := 0.0
	for _, i := range p.Items {
		sum += math.Abs(closed(i.Outline).Area()) * float64(i.Demand)
	}
	return 100 * sum / (p.Height * l.Length)
}

func closed(ring []path.Point) path.Path {
	p := path.Open(ring...)
	p.Closed = true
	return p
}
