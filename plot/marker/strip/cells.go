package strip

// cells divide a strip along its length and hold the pieces whose boxes reach into each, so
// that those near to a place are found without looking at all.
type cells struct {
	width float64
	in    [][]int32
	span  []cellSpan // of each piece
}

// cellSpan is from which cell to which a piece reaches; to is before from for one that lies nowhere.
type cellSpan struct{ from, to int32 }

func newCells(width float64, pieces int) *cells {
	c := &cells{width: width, span: make([]cellSpan, pieces)}
	for i := range c.span {
		c.span[i] = cellSpan{0, -1}
	}
	return c
}

// of returns the cells that a box reaches into.
func (c *cells) of(r *reach) cellSpan {
	if r.x0 > r.x1 {
		return cellSpan{0, -1}
	}
	at := func(x float64) int32 { return int32(max(0, min(x/c.width, mostCells-1))) }
	return cellSpan{at(r.x0), at(r.x1)}
}

// put moves a piece to where its box is.
func (c *cells) put(i int, r *reach) {
	to, was := c.of(r), c.span[i]
	if to == was {
		return
	}
	for k := was.from; k <= was.to; k++ {
		in := c.in[k]
		for n, j := range in {
			if int(j) == i {
				in[n] = in[len(in)-1]
				c.in[k] = in[:len(in)-1]
				break
			}
		}
	}
	for k := to.from; k <= to.to; k++ {
		for int(k) >= len(c.in) {
			c.in = append(c.in, nil)
		}
		c.in[k] = append(c.in[k], int32(i))
	}
	c.span[i] = to
}

// appendNear appends the pieces but i that reach into the cells of a box, each once.
func (c *cells) appendNear(list []int32, i int, r *reach) []int32 {
	near := c.of(r)
	for k := near.from; k <= near.to && int(k) < len(c.in); k++ {
		for _, j := range c.in[k] {
			if int(j) != i && k == max(near.from, c.span[j].from) {
				list = append(list, j)
			}
		}
	}
	return list
}
