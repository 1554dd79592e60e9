package dxf

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/korean"
	"golang.org/x/text/encoding/simplifiedchinese"
	"golang.org/x/text/encoding/traditionalchinese"
)

// usualPage is the code page of files that state none, which the programs of many
// countries write.
func usualPage() encoding.Encoding { return charmap.Windows1252 }

// codePage returns the encoding that $DWGCODEPAGE names: those of ANSI and DOS that
// there are, else the usual one.
func codePage(name []byte) encoding.Encoding {
	key := strings.ToUpper(string(bytes.TrimSpace(name)))
	key = strings.NewReplacer("ANSI_", "", "DOS", "", "WINDOWS-", "", "CP", "").Replace(key)
	pages := map[string]encoding.Encoding{
		"437": charmap.CodePage437, "850": charmap.CodePage850, "852": charmap.CodePage852, "855": charmap.CodePage855,
		"860": charmap.CodePage860, "863": charmap.CodePage863, "865": charmap.CodePage865, "866": charmap.CodePage866,
		"874": charmap.Windows874, "932": japanese.ShiftJIS, "936": simplifiedchinese.GBK, "949": korean.EUCKR, "950": traditionalchinese.Big5,
		"1250": charmap.Windows1250, "1251": charmap.Windows1251, "1252": charmap.Windows1252, "1253": charmap.Windows1253,
		"1254": charmap.Windows1254, "1255": charmap.Windows1255, "1256": charmap.Windows1256, "1257": charmap.Windows1257, "1258": charmap.Windows1258,
	}
	if page, ok := pages[key]; ok {
		return page
	}
	return usualPage()
}

// text returns the value of a string as UTF-8, which it is or else is in the code
// page. What neither has is U+FFFD.
func text(value []byte, page encoding.Encoding) string {
	if utf8.Valid(value) {
		return string(value)
	}
	s, err := page.NewDecoder().Bytes(value)
	if err != nil {
		return strings.ToValidUTF8(string(value), "\ufffd")
	}
	return string(s)
}
