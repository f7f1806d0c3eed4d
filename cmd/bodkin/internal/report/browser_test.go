package report

import (
	"bytes"
	"context"
	"fmt"
	"html"
	"image"
	_ "image/png"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
)

// program finds a program that a test looks with.
func program(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("%s is not installed", name)
		}
		t.Skipf("%s is not installed", name)
	}
	return path
}

// browser opens a page in a real browser, without a window, and returns what
// it prints and what it says of it. It has three minutes, since other tests may
// be at work.
func browser(t *testing.T, page string, args ...string) (stdout, stderr string) {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), 3*time.Minute)
	defer cancel()
	args = append([]string{"--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--enable-logging=stderr",
		"--no-first-run", "--proxy-server=127.0.0.1:9", // nothing that the browser does for itself leaves the machine
		"--user-data-dir=" + t.TempDir()}, args...)
	cmd := exec.CommandContext(ctx, program(t, "chromium"), append(args, "file://"+page)...)
	var out, said bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &said
	cmd.WaitDelay = time.Second // what it started may hold its output open
	if err := cmd.Run(); err != nil && ctx.Err() != nil {
		t.Fatalf("the browser did not end: %v", ctx.Err())
	} else if err != nil && out.Len() == 0 {
		t.Logf("the browser ended with %v: %s", err, said.String())
	}
	return out.String(), said.String()
}

// saved writes a page into a file.
func saved(t *testing.T, page string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "comparison.html")
	if err := os.WriteFile(path, []byte(page), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// console returns what a page wrote to the browser's console: script errors,
// refused requests, what could not be read.
func console(said string) (lines []string) {
	for _, line := range strings.Split(said, "\n") {
		if strings.Contains(line, "CONSOLE") {
			lines = append(lines, line)
		}
	}
	return lines
}

func TestBrowserHasNothingToComplainOf(t *testing.T) {
	t.Parallel()
	_, page := demoPage(t)
	dom, said := browser(t, saved(t, page), "--dump-dom")
	if !strings.Contains(dom, "At a glance") {
		t.Error("the browser shows no page")
	}
	if c := console(said); len(c) > 0 {
		t.Errorf("the console has\n%s", strings.Join(c, "\n"))
	}
	// A page that asks for something is refused, and that is seen.
	evil := strings.Replace(page, "</main>", `<img src="http://127.0.0.1:9/x.png" alt=""/></main>`, 1)
	if _, said = browser(t, saved(t, evil), "--dump-dom"); len(console(said)) == 0 {
		t.Error("a request would not be seen")
	}
}

// measured is what the browser finds of a page in windows of several widths.
type measured struct{ window, page, strip, inStrip, requests int }

// measure opens a page in frames of the given widths and lets the browser
// measure each, and tell the colour of its ground.
func measure(t *testing.T, page string, widths []int, args ...string) (all []measured, ground string) {
	t.Helper()
	frames := `<!DOCTYPE html><html><head><meta name="color-scheme" content="light dark"></head><body>`
	for _, width := range widths {
		frames += fmt.Sprintf(`<iframe style="border:0;width:%dpx;height:800px" srcdoc="%s"></iframe>`, width, html.EscapeString(page))
	}
	frames += `<script>onload=function(){var s="";for(const f of document.querySelectorAll("iframe")){
var d=f.contentDocument,e=d.documentElement,p=d.querySelector(".strip-scroll");
s+="frame "+[e.clientWidth,e.scrollWidth,p.scrollWidth,p.clientWidth,f.contentWindow.performance.getEntriesByType("resource").length].join(" ")
 +" "+f.contentWindow.getComputedStyle(e).backgroundColor+"\n"}
document.body.textContent=s}</script></body></html>`
	dom, _ := browser(t, saved(t, frames), append(args, "--dump-dom", "--window-size=1400,900")...)
	for _, m := range regexp.MustCompile(`frame (\d+) (\d+) (\d+) (\d+) (\d+) (rgb[^\n]*)`).FindAllStringSubmatch(dom, -1) {
		var n [5]int
		for i := range n {
			n[i], _ = strconv.Atoi(m[i+1]) // digits, by the pattern
		}
		all, ground = append(all, measured{n[0], n[1], n[2], n[3], n[4]}), m[6]
	}
	if len(all) != len(widths) {
		t.Fatalf("the browser measured nothing: %.300s", dom)
	}
	return all, ground
}

// On a phone of 360 CSS pixels, and on a narrower one, the page itself does
// not scroll sideways, and what is wider scrolls inside (WCAG 2.2, 1.4.10). It
// asks for nothing: the browser knows of no resource beside the page
// (Resource Timing, W3C).
func TestPageFitsAndAsksForNothing(t *testing.T) {
	t.Parallel()
	_, page := demoPage(t)
	widths := []int{320, 360, 768, 1280}
	all, ground := measure(t, page, widths, "--blink-settings=preferredColorScheme=1")
	for i, m := range all {
		if m.window != widths[i] || m.page > m.window {
			t.Errorf("at %d px the page is %d wide in %d", widths[i], m.page, m.window)
		}
		if m.strip != 480 && m.inStrip < 480 { // 5 in at 96 to the inch: CSS Values and Units 3, 5.2
			t.Errorf("at %d px a strip of 5 in is %d px wide, not 480", widths[i], m.strip)
		}
		if widths[i] < 480 && m.strip <= m.inStrip {
			t.Errorf("at %d px the strip does not scroll inside", widths[i])
		}
		if m.requests != 0 {
			t.Errorf("the page makes %d requests", m.requests)
		}
	}
	if ground != "rgb(250, 247, 241)" {
		t.Errorf("the ground is %s in light", ground)
	}
	// In the dark, and with a request that would be seen.
	free := regexp.MustCompile(`<meta http-equiv[^>]*>`).ReplaceAllString(page, "")
	free = strings.Replace(free, "</main>", `<img src="http://127.0.0.1:9/x.png" alt=""/></main>`, 1)
	all, ground = measure(t, free, []int{360}, "--blink-settings=preferredColorScheme=0")
	if all[0].requests != 1 {
		t.Errorf("of one request %d are seen", all[0].requests)
	}
	if ground != "rgb(26, 24, 22)" {
		t.Errorf("the ground is %s in the dark", ground)
	}
}

func readImage(t *testing.T, path string) image.Image {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, _, err := image.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return img
}
