package dxf

import (
	"fmt"
	"strconv"
	"strings"

	"engrail/plot"
)

// Keys of facts, as in the exchange standards. Category and Size are keys of
// ANSI/AAMA-292. The last four are only in the plain flavour's extended data.
const (
	keyPiece    = "Piece Name"
	keySize     = "Size"
	keyCategory = "Category"
	keyQuantity = "Quantity"
	keyMaterial = "Material"
	keyStyle    = "Style Name"
	keyUnits    = "Units"
	keySample   = "Sample Size"
	keyTable    = "Grade Rule Table"
	keyRemark   = "Annotation"
	keyTitle    = "Title"
	keyGroup    = "Group"
	keyLabel    = "Label"
	keyNote     = "Note"
)

// pieceFacts returns what is known of the piece as "Key: value".
func pieceFacts(p plot.Piece) []string {
	facts := []string{fact(keyPiece, p.Name)}
	add := func(key, value string) {
		if value != "" {
			facts = append(facts, fact(key, value))
		}
	}
	add(keySize, p.Size)
	add(keyCategory, p.Kind)
	if p.Quantity > 0 {
		add(keyQuantity, quantity(p))
	}
	add(keyMaterial, p.Material)
	return facts
}

func fact(key, value string) string { return key + ": " + value }

// quantity returns how many to cut as drawn, and how many mirrored.
func quantity(p plot.Piece) string {
	mirrored := 0
	if p.Pairs {
		mirrored = p.Quantity / 2
	}
	return fmt.Sprintf("%d,%d", p.Quantity-mirrored, mirrored)
}

// splitFact returns the key and value of a fact, the key as it is spelled
// above when it is one of those in whatever case.
func splitFact(s string) (key, value string, ok bool) {
	key, value, ok = strings.Cut(s, ":")
	key = strings.TrimSpace(key)
	if strings.EqualFold(key, "Grading Rule Table") { // of one family of writers
		key = keyTable
	}
	for _, known := range [...]string{
		keyPiece, keySize, keyCategory, keyQuantity, keyMaterial, keyStyle, keyUnits, keySample, keyTable, keyRemark, keyTitle, keyGroup, keyLabel, keyNote,
	} {
		if strings.EqualFold(key, known) {
			key = known
		}
	}
	return key, strings.TrimSpace(value), ok
}

// learn adds the fact to what is known of the piece. Other facts and counts
// that are not whole numbers are passed over.
func learn(p *plot.Piece, key, value string) {
	switch key {
	case keyPiece:
		p.Name = value
	case keySize:
		p.Size = value
	case keyCategory:
		p.Kind = strings.ToLower(value)
	case keyMaterial:
		p.Material = value
	case keyStyle:
		p.Style = value
	case keyNote, keyRemark:
		p.Notes = append(p.Notes, value)
	case keyQuantity:
		a, b, _ := strings.Cut(value, ",")
		drawn, err := strconv.ParseUint(strings.TrimSpace(a), 10, 16)
		mirrored, _ := strconv.ParseUint(strings.TrimSpace(b), 10, 16)
		if err == nil {
			p.Quantity, p.Pairs = int(drawn+mirrored), mirrored > 0
		}
	}
}
