package template_test

import (
	"flag"
	"os"
	"testing"
)

// TestMain has every fact tried on fewer garments than usual: each is several
// panels, and each fact looks at all of their pieces. -rapid.checks=N tries
// more.
func TestMain(m *testing.M) {
	const usually = "40"
	if err := flag.Set("rapid.checks", usually); err != nil {
		panic(err)
	}
	flag.Parse()
	os.Exit(m.Run())
}
