package template

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"engrail/facing"
	"engrail/fit"
	"engrail/motif/path"
)

// text returns the lines on a card, each as long as it is.
func (c *Card) text(r *fit.Result, hems [][]part, cards []Card, o Options) []string {
	unit, length := "mm", func(mm float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", mm), ".0") }
	if o.Length != nil {
		unit, length = o.Unit, o.Length
	}
	head := "card " + c.Name
	if o.Style != "" {
		head = o.Style + ": " + head
	}
	if o.Size != "" {
		head += ", size " + o.Size
	}
	what := fmt.Sprintf("%s x %s %s", length(c.Width), length(c.Depth), unit)
	switch {
	case c.Half:
		what = "half a motif, " + what
	case c.Count == 1:
		what += ", 1 motif"
	default:
		what += fmt.Sprintf(", %d motifs", c.Count)
	}
	lines := []string{head, what}
	if c.Off > sameRigid {
		lines = append(lines, fmt.Sprintf("the mean of motifs that follow the hem: they are within %s %s of it", length(tenthUp(c.Off)), unit))
	}
	for _, i := range c.panels {
		lines = append(lines, order(r.Panels[i], hems[i], cards, func(mm float64) string { return length(mm) + " " + unit })...)
	}
	return lines
}

// tenthUp rounds a length up to a tenth of a mm.
func tenthUp(mm float64) float64 { return math.Ceil(mm*10) / 10 }

// order says how a hem is marked: where to start, what comes after what, and where it
// ends.
func order(f fit.Fitted, parts []part, cards []Card, length func(float64) string) []string {
	words := make([]string, len(parts))
	for i, p := range parts {
		switch {
		case p.plain > 0:
			words[i] = length(p.plain) + " plain"
		case p.half && !cards[p.card].Half:
			words[i] = "half of " + cards[p.card].Name
		default:
			words[i] = cards[p.card].Name
		}
		if p.turned {
			words[i] += " turned over"
		}
		words[i] = strings.ReplaceAll(words[i], " ", tied)
	}
	said := counted(words)
	name := f.Panel.Name
	switch q := max(1, f.Panel.Quantity); {
	case f.Panel.OnFold() && q > 1:
		name += fmt.Sprintf(", both halves, %d times", q)
	case f.Panel.OnFold():
		name += ", both halves"
	case q == 2:
		name += ", twice, one mirrored"
	case q > 2:
		name += fmt.Sprintf(", %d times, half of them mirrored", q)
	}
	if f.Edge.Closed {
		return []string{name + ":", "start with a valley", said, "all round"}
	}
	stands := func(e fit.End) string {
		switch f.Phases[e] {
		case fit.Valley:
			return " with a valley"
		case fit.Peak:
			return " with a peak"
		}
		return ""
	}
	left, right := f.Net[len(f.Net)-1].Role, f.Net[1].Role
	return []string{name + ":", "start at the " + edgeName(left, "left") + stands(fit.Start), said,
		"end at the " + edgeName(right, "right") + stands(fit.Finish)}
}

// tied stands for a space at which no line is broken.
const tied = "\x00"

// edgeName names the edge of a panel beside its hem.
func edgeName(r fit.Role, side string) string {
	switch r {
	case fit.FoldEdge:
		return "fold"
	case fit.SeamEdge:
		return side + " seam"
	case fit.OpeningEdge:
		return side + " opening"
	}
	return side + " edge"
}

// counted lists the words, those that come again and again with how many times they do:
// "A, 8 times (B, 2 A), B".
func counted(words []string) string {
	var said []string
	for i := 0; i < len(words); {
		// Of all that is repeated from here on, what goes on longest.
		period, times := 1, 1
		for p := 1; p <= min(longestRound, (len(words)-i)/2); p++ {
			n := 1
			for i+(n+1)*p <= len(words) && slices.Equal(words[i:i+p], words[i+n*p:i+(n+1)*p]) {
				n++
			}
			if n > 1 && n*p > period*times {
				period, times = p, n
			}
		}
		one := words[i : i+period]
		switch {
		case times == 1:
			said = append(said, one[0])
		case period == 1:
			said = append(said, fmt.Sprintf("%d%s%s", times, tied, one[0]))
		default:
			said = append(said, fmt.Sprintf("%d%stimes%s(%s)", times, tied, tied, counted(one)))
		}
		i += period * times
	}
	return strings.Join(said, ", ")
}

// letter draws the card's outline with room for the lines, and sets them on it: along
// the hem where it is wide enough, else up it.
func (c *Card) letter(lines []string) {
	low := stem + margin
	var set []string
	var block float64 // how high the lettering is
	angle := 0.0
	room := c.Width - 2*margin
	letters := max(across, int(room/(letterWidth*letter)))
	height := min(letter, room/(letterWidth*float64(letters)))
	if height >= smallLetter {
		set = wrapped(lines, letters)
		block = lineSpacing * height * float64(len(set))
	} else {
		angle = math.Pi / 2
		for letters = across; ; letters += 2 {
			set = wrapped(lines, letters)
			height = min(letter, c.Width*0.9/(lineSpacing*float64(len(set))))
			if height >= smallLetter || len(set) == len(lines) {
				break
			}
		}
		height = max(leastLetter, height)
		longest := 0
		for _, l := range set {
			longest = max(longest, utf8.RuneCountInString(l))
		}
		block = letterWidth * height * float64(longest)
	}
	top := low + block + margin
	if top < body {
		top = body
	}
	c.Label = facing.Label{
		At: path.Point{X: c.Width / 2, Y: low + (top-low-margin)/2}, Angle: angle, Height: height, Lines: set,
	}
	sides := path.Open(path.Point{X: c.Width}, path.Point{X: c.Width, Y: top}, path.Point{Y: top}, path.Point{})
	if c.Half {
		sides = path.Open(path.Point{X: c.Width}, path.Point{X: c.Width, Y: top}, path.Point{Y: top}, path.Point{}, c.Lower.Start())
	}
	c.Outline = path.Join(onEdge, c.Lower, sides).Close(onEdge)
}

// wrapped breaks lines at spaces so that none has more letters than that, but for words
// that do.
func wrapped(lines []string, letters int) []string {
	var all []string
	for _, line := range lines {
		first := len(all)
		for _, word := range strings.Fields(line) {
			if n := len(all) - 1; n >= first && utf8.RuneCountInString(all[n]+" "+word) <= letters {
				all[n] += " " + word
			} else {
				all = append(all, word)
			}
		}
	}
	for i, line := range all {
		all[i] = strings.ReplaceAll(line, tied, " ")
	}
	return all
}
