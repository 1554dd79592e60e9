package png

import (
	"fmt"
	"math"
	"strings"

	"github.com/fogleman/gg"
)

// key is the list of the labels that have only a number in the picture.
type key struct {
	entries  []entryLines
	numbered int     // the first so many have a number
	column   float64 // width of one, px
	width    float64 // that the list would like, px
	height   float64 // px, with what parts it from the drawing and the legend
}

// entryLines is an entry of the list, broken into lines, and its place: the
// column and the line in it that it begins on.
type entryLines struct {
	lines     []string
	column, y int
}

// Lengths of the list, px at the usual size.
const (
	keyLead             = 21
	keySize             = 14
	keySign             = 34  // from a column's left to the text, for the number
	keyWidth            = 620 // of the text; longer ones are broken into lines
	keyBefore, keyAfter = 10, 20
	// keyShare is the part of the longest side that the list may take from the
	// drawing; what is more makes the page longer, up to keyMost times the side.
	keyShare = 0.35
	keyMost  = 3
)

// keyOf arranges the list in columns, one number below the other: with lines as
// long as the page is wide, or where that makes fewer of them, with shorter ones
// in several columns. Of more than fit the longest page, the last entry tells how
// many there are.
func (k *kit) keyOf(left []label, width float64) key {
	if len(left) == 0 {
		return key{}
	}
	sign := keySign * k.unit
	list := k.columns(left, width, width-sign)
	if short := k.columns(left, width, min(keyWidth*k.unit, k.longest-2*k.margin-sign)); short.height < list.height {
		return short
	}
	return list
}

// columns arranges the list with lines no longer than limit.
func (k *kit) columns(left []label, width, limit float64) key {
	u := k.unit
	size, gap := keySize*u, columnGap*u
	list := key{numbered: len(left)}
	total := 0
	for _, l := range left {
		lines := k.regular.wrap(strings.Join(l.lines, ", "), size, limit)
		for _, s := range lines {
			list.column = max(list.column, k.regular.width(s, size)+keySign*u)
		}
		total += len(lines)
		list.entries = append(list.entries, entryLines{lines: lines})
	}
	// As many columns as make it no higher than its share.
	wanted := math.Ceil(float64(total) * keyLead * u / (keyShare * k.longest))
	most := math.Floor((k.longest - 2*k.margin + gap) / (list.column + gap))
	list.width = max(1, min(wanted, most))*(list.column+gap) - gap
	cols := max(1, int((width+gap)/(list.column+gap)))
	if most := cols * int(keyMost*k.longest/(keyLead*u)); total > most {
		for total >= most {
			list.numbered--
			total -= len(list.entries[list.numbered].lines)
		}
		more := fmt.Sprintf("and %d more without room", len(left)-list.numbered)
		list.entries = append(list.entries[:list.numbered], entryLines{lines: []string{more}})
		total++
	}
	rows := (total + cols - 1) / cols
	for !list.fill(rows, cols) {
		rows++
	}
	list.height = (keyBefore + float64(rows)*keyLead + keyAfter) * u
	return list
}

// fill places the entries in columns of so many lines and reports whether they
// need no more columns than there are. No entry goes over two.
func (list *key) fill(rows, cols int) bool {
	column, y := 0, 0
	for i := range list.entries {
		e := &list.entries[i]
		if y > 0 && y+len(e.lines) > rows {
			column, y = column+1, 0
		}
		e.column, e.y = column, y
		if y += len(e.lines); y > rows {
			return false
		}
	}
	return column < cols
}

// list writes the list.
func (k *kit) list(p *picture, list key, x0, y float64) {
	u := k.unit
	size := keySize * u
	for i, e := range list.entries {
		x := x0 + float64(e.column)*(list.column+columnGap*u)
		base := y + (keyBefore+float64(e.y)*keyLead)*u + size*capHeight
		if i < list.numbered {
			n := fmt.Sprint(i + 1)
			p.write(k.medium, ink, size, gg.Point{X: x + 24*u - k.medium.width(n, size), Y: base}, n)
		}
		for j, line := range e.lines {
			p.write(k.regular, ink, size, gg.Point{X: x + keySign*u, Y: base + float64(j)*keyLead*u}, line)
		}
	}
}
