package report

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drillbay/drills"
)

// browser runs headless Chromium; a test is skipped where there is none.
func browser(t *testing.T, args ...string) string {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("chromium is not installed")
	}
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	common := []string{"--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--user-data-dir=" + t.TempDir()}
	cmd := exec.CommandContext(ctx, path, append(common, args...)...)
	var out, said bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &said
	require.NoError(t, cmd.Run(), said.String())
	return out.String()
}

// measuring is put into a copy of the page: it says what does not fit, and
// what was asked of a network. The frame gives widths that a window cannot
// have.
const measuring = `<script>
const wide = [];
for (const e of document.body.querySelectorAll('*')) {
  if (e.closest('svg') && e.tagName !== 'svg') continue;
  const r = e.getBoundingClientRect();
  if (r.width && (r.right > innerWidth + 1 || r.left < -1 || e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).display !== 'inline')) wide.push(e.tagName + ' ' + e.className + ' ' + Math.round(r.right));
}
const clipped = [];
for (const s of document.querySelectorAll('svg')) {
  const box = s.getBoundingClientRect();
  for (const e of s.querySelectorAll('text')) {
    const r = e.getBoundingClientRect();
    if (r.left < box.left - 1 || r.right > box.right + 1 || r.top < box.top - 1 || r.bottom > box.bottom + 1) clipped.push(e.textContent);
  }
}
let small = 99;
for (const e of document.querySelectorAll('svg text')) small = Math.min(small, e.getBoundingClientRect().height);
document.body.setAttribute('data-found', JSON.stringify({inner: innerWidth, scroll: document.documentElement.scrollWidth, wide, clipped, small, asked: performance.getEntriesByType('resource').map(r => r.name).filter(n => !n.startsWith('data:'))}));
</script></body>`

type found struct {
	Inner, Scroll        int
	Wide, Clipped, Asked []string
	Small                float64
}

func TestThePageInABrowser(t *testing.T) {
	dir := t.TempDir()
	if keep := os.Getenv("DRILLBAY_PICTURES"); keep != "" {
		dir = keep
	}
	text := written(t, full())
	plain := filepath.Join(dir, "report.html")
	require.NoError(t, os.WriteFile(plain, []byte(text), 0o600))
	// The copy may run the measuring script; the page itself may run none.
	text = strings.Replace(text, "default-src 'none'; style-src", "default-src 'none'; script-src 'unsafe-inline'; style-src", 1)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "measured.html"), []byte(strings.Replace(text, "</body>", measuring, 1)), 0o600))
	for _, width := range []int{390, 1280} {
		t.Run(fmt.Sprint(width), func(t *testing.T) {
			outer := fmt.Sprintf(`<body style="margin:0"><iframe id="f" src="measured.html" style="border:0;width:%dpx;height:3000px"></iframe>
<script>f.onload = () => document.body.setAttribute('data-found', f.contentDocument.body.getAttribute('data-found'))</script></body>`, width)
			frame := filepath.Join(dir, fmt.Sprintf("frame-%d.html", width))
			require.NoError(t, os.WriteFile(frame, []byte(outer), 0o600))
			dom := browser(t, "--allow-file-access-from-files", fmt.Sprintf("--window-size=%d,3000", max(width, 600)), "--virtual-time-budget=3000", "--dump-dom", "file://"+frame)
			m := regexp.MustCompile(`data-found="([^"]*)"`).FindStringSubmatch(dom)
			require.NotNil(t, m, dom[:min(len(dom), 500)])
			var got found
			require.NoError(t, json.Unmarshal([]byte(html.UnescapeString(m[1])), &got))
			t.Logf("%+v", got)
			assert.Equal(t, width, got.Inner)
			assert.LessOrEqual(t, got.Scroll, width)
			assert.Empty(t, got.Wide)
			assert.Empty(t, got.Clipped)
			assert.Empty(t, got.Asked)
			assert.GreaterOrEqual(t, got.Small, 11.0, "px, the smallest label of a chart")
			if os.Getenv("DRILLBAY_PICTURES") != "" {
				browser(t, "--allow-file-access-from-files", fmt.Sprintf("--window-size=%d,3000", max(width, 600)), "--screenshot="+filepath.Join(dir, fmt.Sprintf("report-%d.png", width)), "file://"+frame)
			}
		})
	}
}

func TestThePagePrints(t *testing.T) {
	dir := t.TempDir()
	if keep := os.Getenv("DRILLBAY_PICTURES"); keep != "" {
		dir = keep
	}
	p := full()
	for i := range p.Pictures { // drawings are the tallest
		p.Pictures[i].Caption += "; near the middle of 13 readings"
		p.Pictures[i].Data, p.Pictures[i].Drawn = nil, `<svg viewBox="0 0 200 260"><rect width="200" height="260" fill="#eee"/></svg>`
	}
	text := written(t, p)
	for _, size := range []string{"A4", "letter"} {
		page := filepath.Join(dir, size+".html")
		require.NoError(t, os.WriteFile(page, []byte(strings.Replace(text, "@page {", "@page { size: "+size+";", 1)), 0o600))
		pdf := filepath.Join(dir, size+".pdf")
		browser(t, "--print-to-pdf="+pdf, "--no-pdf-header-footer", "file://"+page)
		b, err := os.ReadFile(pdf)
		require.NoError(t, err)
		pages := len(regexp.MustCompile(`/Type\s*/Page[^s]`).FindAll(b, -1))
		t.Logf("%s: %d pages", size, pages)
		assert.True(t, pages >= 2 && pages <= 5, "%s: %d pages", size, pages)
		// What the player reads is on the first page, all of it and nothing else.
		if tool, err := exec.LookPath("pdftotext"); err == nil {
			first, err := exec.Command(tool, "-l", "1", pdf, "-").Output()
			require.NoError(t, err)
			for _, want := range []string{"Featherstonehaugh", "Best", "Typical", "What got better", "What to work on", "Homework", "Wilhelmina", "stop on pain"} {
				assert.Contains(t, string(first), want, size)
			}
			assert.Contains(t, strings.Join(strings.Fields(string(first)), " "), drills.NoAdvice, size)
			assert.NotContains(t, string(first), "The figures behind", size)
			second, err := exec.Command(tool, "-f", "2", "-l", "2", pdf, "-").Output()
			require.NoError(t, err)
			assert.Contains(t, string(second), "The figures behind", "%s: nothing of the first page is on the second", size)
		}
	}
}

// A clinic stands on one page, however many players it has.
func TestAClinicPrintsOnOnePage(t *testing.T) {
	dir := t.TempDir()
	if keep := os.Getenv("DRILLBAY_PICTURES"); keep != "" {
		dir = keep
	}
	for _, n := range []int{6, 14, 20, 40} {
		g := Group{Coach: "Wilhelmina Achterberg-Fitzgerald", Place: "Indoor bays at the old mill, lane 4", Began: time.Date(2026, 4, 14, 9, 0, 0, 0, time.UTC), Made: time.Date(2026, 4, 14, 11, 0, 0, 0, time.UTC), Band: 8}
		for i := range n {
			m := Member{ID: fmt.Sprint(i), Name: []string{"Ada", "Bartholomew Featherstonehaugh-Öström", "Cleo"}[i%3], Rung: 1 + i%8, Share: drills.Share{Good: i % 7, Of: 10}, Middle: float64(i - 8), Placed: drills.Share{Good: 1, Of: 9}, Work: "Face held shut, head outside.", Feel: "The hands stay in front of the chest, and the clubhead outside them."}
			if i%4 == 0 {
				m.Needs = "4 of the last 5 inside"
			}
			g.Members = append(g.Members, m)
		}
		for _, size := range []string{"A4", "letter"} {
			var text bytes.Buffer
			require.NoError(t, WriteGroup(&text, g))
			name := filepath.Join(dir, fmt.Sprintf("clinic-%d-%s", n, size))
			require.NoError(t, os.WriteFile(name+".html", []byte(strings.Replace(text.String(), "@page {", "@page { size: "+size+";", 1)), 0o600))
			browser(t, "--print-to-pdf="+name+".pdf", "--no-pdf-header-footer", "file://"+name+".html")
			b, err := os.ReadFile(name + ".pdf")
			require.NoError(t, err)
			assert.Len(t, regexp.MustCompile(`/Type\s*/Page[^s]`).FindAll(b, -1), 1, "%d players on %s", n, size)
		}
	}
}
