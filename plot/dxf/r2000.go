package dxf

import (
	"strconv"

	"engrail/motif/path"
)

// What a file of release 2000 has besides its entities: handles, by which all
// things in it are known, with the owner of each, and the tables, blocks and
// objects that strict readers look for.

// owned writes a new handle and that of its owner, and returns it.
func (e *encoder) owned(owner uint64) uint64 { return e.ownedAs("5", owner) }

// ownedAs is owned where the handle has another group code.
func (e *encoder) ownedAs(code string, owner uint64) uint64 {
	e.handle++
	e.reference(code, e.handle)
	e.reference("330", owner)
	return e.handle
}

func (e *encoder) reference(code string, handle uint64) {
	e.buf = append(append(e.buf, code...), "\r\n"...)
	e.buf = append(appendHex(e.buf, handle), "\r\n"...)
}

// appendHex appends the handle as it is written: hexadecimal in capitals.
func appendHex(buf []byte, handle uint64) []byte {
	from := len(buf)
	buf = strconv.AppendUint(buf, handle, 16)
	for i, c := range buf[from:] {
		if c >= 'a' {
			buf[from+i] = c - 'a' + 'A'
		}
	}
	return buf
}

// view writes the table of the view that programs open with: all of the drawing.
func (e *encoder) view(box path.Box) {
	const margin = 1.05
	const aspect = 1.5 // of a window, width to height
	height := max(box.Height(), box.Width()/aspect)
	if height == 0 {
		height = 100
	}
	e.table("VPORT", 1)
	e.entry("VPORT", "AcDbViewportTableRecord", "*ACTIVE")
	e.text("70", "0")
	for _, p := range [...][2]string{{"10", "0.0"}, {"20", "0.0"}, {"11", "1.0"}, {"21", "1.0"}} { // its corners on the screen
		e.text(p[0], p[1])
	}
	middle := box.Centre()
	e.length("12", middle.X)
	e.length("22", middle.Y)
	for _, p := range [...][2]string{
		{"13", "0.0"}, {"23", "0.0"}, {"14", "10.0"}, {"24", "10.0"}, {"15", "10.0"}, {"25", "10.0"}, // snap and grid
		{"16", "0.0"}, {"26", "0.0"}, {"36", "1.0"}, {"17", "0.0"}, {"27", "0.0"}, {"37", "0.0"}, // seen from above
	} {
		e.text(p[0], p[1])
	}
	e.length("40", margin*height)
	e.number("41", aspect, plainDecimals)
	for _, p := range [...][2]string{
		{"42", "50.0"}, {"43", "0.0"}, {"44", "0.0"}, {"50", "0.0"}, {"51", "0.0"}, // lens, clipping, turns
		{"71", "0"}, {"72", "1000"}, {"73", "1"}, {"74", "3"}, {"75", "0"}, {"76", "0"}, {"77", "0"}, {"78", "0"},
	} {
		e.text(p[0], p[1])
	}
	e.text("0", "ENDTAB")
}

// styles writes the table of text styles, and the empty ones of views and of
// systems of coordinates.
func (e *encoder) styles() {
	e.table("STYLE", 1)
	e.entry("STYLE", "AcDbTextStyleTableRecord", "STANDARD")
	for _, p := range [...][2]string{
		{"70", "0"}, {"40", "0.0"}, {"41", "1.0"}, {"50", "0.0"}, {"71", "0"}, {"42", "2.5"}, {"3", "txt"}, {"4", ""},
	} {
		e.text(p[0], p[1])
	}
	e.text("0", "ENDTAB")
	for _, name := range [...]string{"VIEW", "UCS"} {
		e.table(name, 0)
		e.text("0", "ENDTAB")
	}
}

// dimensions writes the table of the styles of dimensions, of which there must
// be one.
func (e *encoder) dimensions() {
	e.table("DIMSTYLE", 1)
	e.text("100", "AcDbDimStyleTable")
	e.text("71", "0")
	e.text("0", "DIMSTYLE")
	e.ownedAs("105", e.owner)
	e.text("100", "AcDbSymbolTableRecord")
	e.text("100", "AcDbDimStyleTableRecord")
	e.text("2", "STANDARD")
	e.text("70", "0")
	e.text("0", "ENDTAB")
}

// The blocks that hold what is drawn.
const modelSpace, paperSpace = "*Model_Space", "*Paper_Space"

// spaces writes the table of blocks and returns the handles of the two.
func (e *encoder) spaces() (model, paper uint64) {
	record := func(name string) uint64 {
		e.entry("BLOCK_RECORD", "AcDbBlockTableRecord", name)
		handle := e.handle
		e.text("340", "0")
		return handle
	}
	e.table("BLOCK_RECORD", 2)
	model, paper = record(modelSpace), record(paperSpace)
	e.text("0", "ENDTAB")
	return model, paper
}

// space writes a block for what is drawn elsewhere in the file.
func (e *encoder) space(name string, record uint64) {
	begin := func(kind, class string) {
		e.text("0", kind)
		e.owned(record)
		e.text("100", "AcDbEntity")
		if name == paperSpace {
			e.text("67", "1")
		}
		e.text("8", "0")
		e.text("100", class)
	}
	begin("BLOCK", "AcDbBlockBegin")
	e.text("2", name)
	e.text("70", "0")
	e.point(path.Point{})
	e.level("30")
	e.text("3", name)
	e.text("1", "")
	begin("ENDBLK", "AcDbBlockEnd")
}

// objects writes the root dictionary and the one of groups, which it must name.
func (e *encoder) objects() {
	e.section("OBJECTS")
	e.text("0", "DICTIONARY")
	root := e.owned(0)
	e.text("100", "AcDbDictionary")
	e.text("281", "1")
	e.text("3", "ACAD_GROUP")
	e.reference("350", root+1)
	e.text("0", "DICTIONARY")
	e.owned(root)
	e.text("100", "AcDbDictionary")
	e.text("281", "1")
	e.endSection()
}
