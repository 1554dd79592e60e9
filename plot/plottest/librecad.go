package plottest

import (
	"bytes"
	"context"
	"image"
	"image/draw"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// PixelsPerMM is the resolution of the pages that [LibreCAD] returns.
const PixelsPerMM = 10

// patience is how long another's program may take before it is stopped: a
// hundred times what it takes.
const patience = time.Minute

// LibreCAD has LibreCAD, a drawing program, print a DXF file at its true size in
// the middle of a page A4, and pdftoppm draw the page. What lies beyond the page
// is missing. It fails when LibreCAD makes no page, and skips or fails as
// [Program] does when there is no such program.
func LibreCAD(t testing.TB, file []byte) *image.Gray {
	t.Helper()
	librecad, pdftoppm := Program(t, "librecad"), Program(t, "pdftoppm")
	folder := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(folder, "drawing.dxf"), file, 0o644))
	run := func(program string, args ...string) {
		ctx, cancel := context.WithTimeout(context.Background(), patience)
		defer cancel()
		cmd := exec.CommandContext(ctx, program, args...)
		cmd.Dir = folder
		cmd.WaitDelay = time.Second
		// No window, and no settings of the user's or left to him.
		cmd.Env = append(os.Environ(), "QT_QPA_PLATFORM=offscreen", "HOME="+folder, "XDG_CONFIG_HOME="+folder, "XDG_RUNTIME_DIR="+folder)
		out, err := cmd.CombinedOutput()
		require.NoError(t, err, "%s: %s", program, out)
	}
	run(librecad, "dxf2pdf", "-s", "1", "-c", "-t", folder, "drawing.dxf")
	run(pdftoppm, "-r", "254", "-gray", "-png", "-singlefile", "drawing.pdf", "page")
	drawn, err := os.ReadFile(filepath.Join(folder, "page.png"))
	require.NoError(t, err)
	m, err := png.Decode(bytes.NewReader(drawn))
	require.NoError(t, err)
	page := image.NewGray(m.Bounds())
	draw.Draw(page, page.Rect, m, m.Bounds().Min, draw.Src)
	return page
}
