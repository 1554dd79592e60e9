package turn_test

import (
	"flag"
	"os"
	"testing"
)

// TestMain has every fact tried on fewer hems than usual. -rapid.checks=N tries more.
func TestMain(m *testing.M) {
	const usually = "60"
	if err := flag.Set("rapid.checks", usually); err != nil {
		panic(err)
	}
	flag.Parse()
	os.Exit(m.Run())
}
