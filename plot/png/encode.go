package png

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"io"
	"strconv"

	"github.com/fogleman/gg"
)

// number returns the shortest decimal form.
func number(x float64) string { return strconv.FormatFloat(x, 'g', 12, 64) }

// encode paints the page and writes it.
func (pg *page) encode(w io.Writer) error {
	im := image.NewRGBA(image.Rect(0, 0, int(pg.width), int(pg.height)))
	im.Pix[0] = 0xFF
	for n := 1; n < len(im.Pix); n *= 2 {
		copy(im.Pix[n:], im.Pix[:n])
	}
	pg.paint(gg.NewContextForRGBA(im))

	var buf bytes.Buffer
	enc := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := enc.Encode(&buf, reduce(im, palette(pg.grounds()))); err != nil {
		return fmt.Errorf("png: %w", err)
	}
	// The density goes behind the signature and the header, which have a fixed
	// length.
	const header = 8 + 4 + 4 + 13 + 4
	file := buf.Bytes()
	for _, part := range [][]byte{file[:header], density(pg.perMetre), file[header:]} {
		if _, err := w.Write(part); err != nil {
			return fmt.Errorf("png: %w", err)
		}
	}
	return nil
}

// density returns the pHYs chunk for square pixels (PNG specification, third
// edition, 11.3.4.3).
func density(perMetre int) []byte {
	chunk := binary.BigEndian.AppendUint32(nil, 9)
	chunk = append(chunk, "pHYs"...)
	chunk = binary.BigEndian.AppendUint32(chunk, uint32(perMetre))
	chunk = binary.BigEndian.AppendUint32(chunk, uint32(perMetre))
	chunk = append(chunk, 1) // per metre
	return binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
}

// reduce returns the picture in the palette's colours, which is several times
// faster to compress.
func reduce(im *image.RGBA, p color.Palette) *image.Paletted {
	out := image.NewPaletted(im.Rect, p)
	colours := make([]color.RGBA, len(p))
	for i, c := range p {
		colours[i] = c.(color.RGBA)
	}
	// The colour for every pixel value, by the upper six bits of each channel,
	// once it has occurred. The palette is coarser than that; the lower bits are
	// dropped so that a pixel's colour does not depend on those before it.
	table := make([]int16, 1<<18)
	var last uint32
	var index uint8
	from := im.Pix
	for i := range out.Pix {
		pixel := binary.LittleEndian.Uint32(from)
		from = from[4:]
		if pixel != last {
			r, g, b := uint8(pixel), uint8(pixel>>8), uint8(pixel>>16)
			known := &table[int(r>>2)<<12|int(g>>2)<<6|int(b>>2)]
			if *known == 0 {
				*known = 1 + int16(nearestColour(colours, r&^3|2, g&^3|2, b&^3|2))
			}
			last, index = pixel, uint8(*known-1)
		}
		out.Pix[i] = index
	}
	return out
}

func nearestColour(colours []color.RGBA, r, g, b uint8) uint8 {
	best, found := 1<<30, 0
	for i, c := range colours {
		dr, dg, db := int(c.R)-int(r), int(c.G)-int(g), int(c.B)-int(b)
		if d := dr*dr + dg*dg + db*db; d < best {
			best, found = d, i
		}
	}
	return uint8(found)
}
