package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"strconv"
)

// Page is the size of a page in mm.
type Page struct{ Width, Height float64 }

// Pages returns the sizes of the pages of a file that this package wrote: of the
// page objects, in their order. It reads no file whose objects are compressed or
// encrypted, as other programs write them: that is an error, and so is a file that
// is no PDF.
func Pages(file []byte) ([]Page, error) {
	if !bytes.HasPrefix(file, []byte("%PDF-")) {
		return nil, errors.New("pdf: the file does not begin as a PDF does")
	}
	object := regexp.MustCompile(`(?s)/Type\s*/Page\b(.*?)endobj`)
	box := regexp.MustCompile(`/MediaBox\s*\[\s*(-?[0-9.]+)\s+(-?[0-9.]+)\s+(-?[0-9.]+)\s+(-?[0-9.]+)\s*\]`)
	usual := box.FindSubmatch(bytes.Join(regexp.MustCompile(`(?s)/Type\s*/Pages\b.*?endobj`).FindAll(file, 1), nil))
	var pages []Page
	for _, o := range object.FindAllSubmatch(file, mostPages+2) {
		m := box.FindSubmatch(o[1])
		if m == nil {
			m = usual
		}
		if m == nil {
			return nil, fmt.Errorf("pdf: page %d states no size", len(pages)+1)
		}
		var n [4]float64
		for i := range n {
			x, err := strconv.ParseFloat(string(m[i+1]), 64)
			if err != nil {
				return nil, fmt.Errorf("pdf: page %d has the size %q, which is no number", len(pages)+1, m[i+1])
			}
			n[i] = x
		}
		pages = append(pages, Page{(n[2] - n[0]) * 25.4 / 72, (n[3] - n[1]) * 25.4 / 72})
	}
	if len(pages) == 0 {
		return nil, errors.New("pdf: the file has no page that can be read; another program may have written it")
	}
	return pages, nil
}
