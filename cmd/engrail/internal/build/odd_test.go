package build_test

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"engrail/cmd/engrail/internal/build"
	"engrail/cmd/engrail/internal/style"

	"github.com/stretchr/testify/require"
)

var odd = map[string]string{
	"shallow":         "motif: {depth: 0.1}\npanels: {a: {straight: {width: 800, depth: 300}}}",
	"narrow":          "motif: {width: 0.1, depth: 0.04}\npanels: {a: {straight: {width: 20, depth: 300}}}",
	"narrow, long":    "motif: {width: 0.1, depth: 0.04}\npanels: {a: {straight: {width: 800, depth: 300}}}",
	"narrow, deep":    "motif: {width: 0.1, depth: 24, shape: point}\npanels: {a: {straight: {width: 20, depth: 300}}}",
	"tiny all":        "motif: {width: 0.01, depth: 0.001}\nfacing: 0.01\nallowance: 0.01\npanels: {a: {straight: {width: 0.1, depth: 0.1}}}",
	"5 m hem":         "motif: {width: 300, depth: 100}\npanels: {a: {gore: {waist: 2000, hem: 5000, length: 900}}}",
	"100 m hem":       "motif: {width: 60, depth: 20}\npanels: {a: {straight: {width: 100000, depth: 300}}}",
	"300 repeats":     "motif: {count: 300, width: 16, depth: 5}\npanels: {a: {gore: {waist: 1000, hem: 4800, length: 900}}}",
	"300 bent":        "motif: {count: 300, width: 16, depth: 5, lay: bent}\npanels: {a: {gore: {waist: 1000, hem: 4800, length: 900}}}",
	"10000 repeats":   "motif: {count: 10000}\npanels: {a: {straight: {width: 800, depth: 300}}}",
	"negative rise":   "panels: {a: {gore: {waist: 300, hem: 600, length: 500, rise: -80}}}",
	"huge rise":       "panels: {a: {gore: {waist: 300, hem: 600, length: 500, rise: 490}}}",
	"rise above top":  "panels: {a: {gore: {waist: 300, hem: 600, length: 500, rise: 900}}}",
	"huge neg rise":   "panels: {a: {gore: {waist: 300, hem: 600, length: 500, rise: -5000}}}",
	"sides at a point": "panels: {a: {gore: {waist: 0.001, hem: 600, length: 500}}}",
	"narrows down":    "panels: {a: {gore: {waist: 900, hem: 600, length: 500}}}",
	"narrows to a point": "motif: {width: 0.002, depth: 0.0005}\npanels: {a: {gore: {waist: 900, hem: 0.01, length: 500}}}",
	"all folds":       "panels: {a: {straight: {width: 600, depth: 300}, half: fold}, b: {straight: {width: 600, depth: 300}, half: fold}, c: {circle: {waist: 700, length: 500, part: half}, half: fold}}",
	"all openings":    "panels: {a: {straight: {width: 600, depth: 300}, half: opening, finish: {edge: opening}}}",
	"one repeat on the fold": "motif: {width: 600, depth: 100}\npanels: {a: {straight: {width: 600, depth: 300}, half: fold}}",
	"full circle":     "panels: {a: {circle: {waist: 700, length: 600, part: full}}}",
	"full circle half on fold": "panels: {a: {circle: {waist: 700, length: 600, part: full}, half: fold}}",
	"tiny part":       "panels: {a: {circle: {waist: 1, length: 600, part: 0.001}}}",
	"a turn and more": "panels: {a: {circle: {waist: 700, length: 600, part: 5, panels: 4}}}",
	"many turns":      "panels: {a: {circle: {waist: 700, length: 600, part: 1000, panels: 1000}}}",
	"negative ease":   "panels: {a: {circle: {waist: 700, length: 600, part: full, ease: -699.9}}}",
	"ease below waist": "panels: {a: {circle: {waist: 700, length: 600, part: full, ease: -800}}}",
	"short circle":    "panels: {a: {circle: {waist: 700, length: 0.1, part: half}}}",
	"steep curve":     "panels: {a: {curve: {points: [[0, 0], [10, 300], [20, 0], [30, 300], [40, 0]], height: 600}}}",
	"back and forth":  "panels: {a: {curve: {points: [[0, 0], [300, 10], [100, 20], [400, 30]], height: 600}}}",
	"same points":     "panels: {a: {curve: {points: [[0, 0], [0, 0], [300, 10]], height: 600}}}",
	"one point":       "panels: {a: {curve: {points: [[0, 0]], height: 600}}}",
	"curve above top": "panels: {a: {curve: {points: [[0, 0], [200, 900], [400, 0]], height: 600}}}",
	"height 0":        "panels: {a: {curve: {points: [[0, 0], [200, 10], [400, 0]], height: 0}}}",
	"height below":    "panels: {a: {curve: {points: [[0, 0], [200, 10], [400, 0]], height: -600}}}",
	"concave curve":   "panels: {a: {curve: {points: [[0, 0], [200, 150], [400, 0]], height: 600}}}",
	"wide allowances": "allowance: 500\npanels: {a: {straight: {width: 600, depth: 300}}}",
	"no allowances":   "allowance: 0\npanels: {a: {straight: {width: 600, depth: 300}}}",
	"huge allowances": "allowance: 100000\npanels: {a: {straight: {width: 600, depth: 300}}}",
	"favour beyond depth": "facing: {depth: 30, favour: 60}\npanels: {a: {straight: {width: 600, depth: 300}}}",
	"facing 0.1":      "facing: {depth: 0.1, favour: 0}\npanels: {a: {straight: {width: 600, depth: 300}}}",
	"clip gap beyond": "facing: {clip gap: 90}\npanels: {a: {straight: {width: 600, depth: 300}}}",
	"mark every 0.01": "facing: {mark every: 0.01}\npanels: {a: {straight: {width: 600, depth: 300}}}",
	"all flat":        "motif: {flat: 60}\npanels: {a: {straight: {width: 600, depth: 300}}}",
	"flat and blunt":  "motif: {shape: point, flat: 40, tip: {blunt: 40}}\npanels: {a: {straight: {width: 600, depth: 300}}}",
	"round too much":  "motif: {shape: point, tip: {round: 500}, valley: {round: 500}}\npanels: {a: {straight: {width: 600, depth: 300}}}",
	"wave round":      "motif: {shape: wave, tip: {round: 0.001}, valley: {round: 0.001}}\npanels: {a: {straight: {width: 600, depth: 300}}}",
	"deep point":      "motif: {shape: point, depth: 290}\nfacing: none\npanels: {a: {straight: {width: 600, depth: 300}}}",
	"deep point valleys": "motif: {shape: point, depth: 90000, rest: valleys}\npanels: {a: {straight: {width: 600, depth: 300}}}",
	"seam to itself":  "panels: {a: {straight: {width: 600, depth: 300}}}\nseams: [[a start, a finish]]",
	"steep seam":      "panels: {a: {gore: {waist: 10, hem: 3000, length: 300, rise: 0}}, b: {gore: {waist: 3000, hem: 300, length: 300, rise: 0}}}\nseams: [[a start, b finish], [a finish, b start]]",
	"middle rest":     "motif: {rest: middle, lay: bent, shape: wave}\npanels: {a: {circle: {waist: 300, length: 100, part: full, panels: 2}, half: seam}}",
	"notches far":     "panels: {a: {straight: {width: 600, depth: 300}, start: {notches: [1, 299.9, 5000]}}}",
	"least and most":  "motif: {least: 0.001, most: 100000}\npanels: {a: {straight: {width: 600, depth: 300}}}",
	"bent small circle": "motif: {lay: bent, width: 20, depth: 9}\npanels: {a: {circle: {waist: 60, length: 30, part: full}}}",
	"huge step":       "output: {plotter: {range: wide, step: 10}}\npanels: {a: {straight: {width: 600, depth: 300}}}",
	"tiny step":       "output: {plotter: {range: wide, step: 0.000001}}\npanels: {a: {straight: {width: 600, depth: 300}}}",
	"tiny picture":    "output: {picture: 640}\npanels: {a: {gore: {waist: 10, hem: 3000, length: 90000}}}",
	"cut 1000": "panels: {a: {straight: {width: 600, depth: 300}, quantity: 1000}}",
	"unfold": "output: {unfold: true}\npanels: {a: {circle: {waist: 700, length: 600, part: 0.99}, half: fold}}",
	"long style": "style: "+strings.Repeat("W", 200)+"\npanels: {a: {straight: {width: 60, depth: 30}}}\nfacing: none\nmotif: {width: 10, depth: 3}",
}

func TestOdd(t *testing.T) {
	for name, text := range odd {
		if f := os.Getenv("ODD"); f != "" && f != name { continue }
		if !strings.Contains(text, "output") { text = "output: {plotter: {range: wide}}\n" + text }
		func() {
			defer func() { if p := recover(); p != nil { fmt.Printf("PANIC %s: %v\n", name, p); if os.Getenv("ODD")!="" {panic(p)} } }()
			s, err := style.Parse("odd.yaml", []byte("engrail: 1\n"+text+"\n"))
			if err != nil { fmt.Println("STYLE", name, err); return }
			t0 := time.Now()
			p, err := build.New(s, nil)
			t1 := time.Since(t0)
			if err != nil { fmt.Printf("%-20s %8v NEW %v\n", name, t1.Round(time.Millisecond), err); 
			  if r, ok := err.(interface{Remedy() string}); ok { fmt.Println("                  HINT", r.Remedy()) }; return }
			n := 0
			t0 = time.Now()
			var sl string
			last := time.Now()
			_, err = p.Write(func(f string, c []byte) error { n += len(c); sl += fmt.Sprint(" ", f[len(f)-8:], time.Since(last).Round(time.Millisecond)); last = time.Now(); return nil }, func(int, int) {})
			fmt.Printf("%-20s %8v %8v %d ok warnings %d %v\n", name, t1.Round(time.Millisecond), time.Since(t0).Round(time.Millisecond), n, len(p.Warnings), err)
			if time.Since(t0) > time.Second { fmt.Println("                 ", sl) }
			for _, w := range p.Warnings { fmt.Println("                  W", w.Where, w.Message) }
		}()
	}
	require.True(t, true)
}
