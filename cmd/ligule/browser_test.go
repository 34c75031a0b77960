//go:build browser

// The printed demonstration in a real browser. Run by .ci/browser, which
// installs what is needed and names the accessibility checker:
//
//	AXE=…/axe.min.js go test -tags browser -run Browser ./cmd/ligule
package main

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// pages are one of each kind, and those with the most and the least on them.
var pages = []string{
	"/", "/zones/gannet-shore/", "/zones/gannet-shore/zoysia/", "/zones/gannet-shore/zoysia/working/", "/zones/brackmoor-plateau/", "/zones/gannet-shore/year/", "/zones/brackmoor-plateau/year/",
	"/issues/", "/issues/2026-W29/", "/issues/2026-W38/gannet-shore/", "/issues/2026-W48/gannet-shore/newsletter/",
	"/local-rules/", "/local-rules/wendrake-county/", "/local-rules/vellinport/", "/local-rules/ivelsay-district/", "/issues/2026-W38/redfallow-piedmont/", "/guides/", "/guides/reading-a-bag/", "/about/", "/methods/", "/methods/indicators/", "/methods/sources/",
	"/subscribe/", "/404.html", "/pests/", "/pests/brown-patch/", "/pests/crabgrass/", "/pests/white-grubs/", "/pests/bermudagrass-mite/", "/pests/weed-killers/",
	"/zones/redfallow-piedmont/tall-fescue/", "/zones/redfallow-piedmont/tall-fescue/working/",
	"/replay/",
}

// site presses the demonstration, with a page of past years beside it, and serves
// both on the loopback interface.
func site(t *testing.T) *httptest.Server {
	t.Helper()
	dir := t.TempDir()
	code, _, stderr := ligule(t, root, "press", "--out", dir)
	require.Equal(t, exitOK, code, stderr)
	code, _, stderr = ligule(t, root, "replay", "--quiet", "--years", "2025", "--page", filepath.Join(dir, "replay"))
	require.Equal(t, exitOK, code, stderr)
	server := httptest.NewServer(http.FileServer(http.Dir(dir)))
	t.Cleanup(server.Close)
	return server
}

// chromium starts a browser.
func chromium(t *testing.T) context.Context {
	t.Helper()
	flags := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(t.TempDir()))
	for _, f := range []string{"disable-quic", "disable-background-networking", "disable-component-update", "disable-sync"} {
		flags = append(flags, chromedp.Flag(f, true))
	}
	alloc, stop := chromedp.NewExecAllocator(t.Context(), flags...)
	t.Cleanup(stop)
	ctx, cancel := chromedp.NewContext(alloc)
	t.Cleanup(cancel)
	return ctx
}

// view is a way to look at a page.
type view struct {
	width  int64
	scheme string
}

func views() []view { return []view{{360, "light"}, {360, "dark"}, {1280, "light"}, {1280, "dark"}} }

func (v view) String() string { return fmt.Sprintf("%d px, %s", v.width, v.scheme) }

func look(t *testing.T, ctx context.Context, v view, url string) {
	t.Helper()
	_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: v.scheme}}})
	require.NoError(t, err)
	require.NoError(t, chromedp.Do(ctx, chromedp.EmulateViewport(v.width, 900), chromedp.Navigate(url)))
}

func eval[T any](t *testing.T, ctx context.Context, js string) T {
	t.Helper()
	out, err := chromedp.Run(ctx, chromedp.Evaluate[T](js, chromedp.EvalAwaitPromise))
	require.NoError(t, err, js)
	return out
}

// No page asks anything of another host, complains on the console, scrolls
// sideways, or fails an accessibility rule, in any view.
func TestBrowserPages(t *testing.T) {
	axe, err := os.ReadFile(os.Getenv("AXE"))
	require.NoError(t, err, "AXE must name axe.min.js")
	server, ctx := site(t), chromium(t)
	var asked []string
	require.NoError(t, chromedp.Listen(ctx, func(ev any) {
		if r, ok := ev.(*network.EventRequestWillBeSent); ok {
			asked = append(asked, r.Request.URL)
		}
	}))
	var said []string
	console := chromedp.Console(ctx)
	go func() {
		for m, err := range console {
			if err != nil {
				return
			}
			said = append(said, m.URL+": "+m.Text)
		}
	}()
	for _, page := range pages {
		for _, v := range views() {
			look(t, ctx, v, server.URL+page)
			name := page + " at " + v.String()
			assert.Zero(t, eval[float64](t, ctx, "document.documentElement.scrollWidth - window.innerWidth > 0 ? document.documentElement.scrollWidth - window.innerWidth : 0"), "%s scrolls sideways", name)
			eval[bool](t, ctx, string(axe)+"; true")
			violations := eval[[]string](t, ctx, `axe.run(document, {runOnly: ['wcag2a','wcag2aa','wcag21a','wcag21aa','wcag22aa','best-practice']})
				.then(r => r.violations.flatMap(v => v.nodes.map(n => v.id + ': ' + n.target.join(' ') + ': ' + n.failureSummary)))`)
			assert.Empty(t, violations, name)
		}
	}
	for _, url := range asked {
		assert.True(t, strings.HasPrefix(url, server.URL) || strings.HasPrefix(url, "data:"), "asked %s", url)
	}
	assert.Empty(t, said)
}

// Everything can be read without script.
func TestBrowserWithoutScript(t *testing.T) {
	server, ctx := site(t), chromium(t)
	for _, page := range []string{"/", "/zones/gannet-shore/", "/issues/2026-W48/gannet-shore/newsletter/"} {
		look(t, ctx, views()[0], server.URL+page)
		with := eval[float64](t, ctx, "document.querySelector('main').innerText.length")
		_, err := chromedp.Call(ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
		require.NoError(t, err)
		look(t, ctx, views()[0], server.URL+page)
		_, err = chromedp.Call(ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: false})
		require.NoError(t, err)
		without := eval[float64](t, ctx, "document.querySelector('main').innerText.length")
		assert.Greater(t, without, 0.8*with, page)
	}
}

// The copy button puts the newsletter on the clipboard as HTML and as text, and
// it can be pasted into a field for rich text.
func TestBrowserCopiesTheNewsletter(t *testing.T) {
	server, ctx := site(t), chromium(t)
	look(t, ctx, views()[2], server.URL+"/issues/2026-W48/gannet-shore/newsletter/")
	for _, p := range []string{"clipboard-read", "clipboard-write"} {
		_, err := chromedp.CallBrowser(ctx, browser.SetPermission, browser.SetPermissionParams{
			Permission: &browser.PermissionDescriptor{Name: p}, Setting: browser.PermissionSettingGranted, Origin: server.URL})
		require.NoError(t, err)
	}
	require.NoError(t, chromedp.Do(ctx, chromedp.Click(chromedp.CSS("main button"))))
	_, err := chromedp.Run(ctx, chromedp.Poll[bool](`document.querySelector('[role=status]').textContent.trim() !== ''`))
	require.NoError(t, err)
	read := func(kind string) string {
		return eval[string](t, ctx, `navigator.clipboard.read().then(items => items[0].getType('`+kind+`')).then(b => b.text())`)
	}
	html, text := read("text/html"), read("text/plain")
	assert.Contains(t, html, `width="600"`)
	assert.Contains(t, html, "style=")
	assert.NotContains(t, html, "<script")
	for _, l := range strings.Split(text, "\n") {
		assert.LessOrEqual(t, len([]rune(l)), 78, l)
	}
	assert.Contains(t, strings.ToLower(text), "invented")
	pasted := eval[string](t, ctx, `navigator.clipboard.read().then(items => items[0].getType('text/html')).then(b => b.text()).then(h => {
		const field = document.createElement('div'); field.contentEditable = true; document.body.append(field); field.focus();
		document.execCommand('insertHTML', false, h); return field.innerText; })`)
	assert.Contains(t, pasted, "Gannet Shore")
}

// A zone's page prints on a few sheets.
func TestBrowserPrints(t *testing.T) {
	server, ctx := site(t), chromium(t)
	look(t, ctx, views()[2], server.URL+"/zones/gannet-shore/")
	pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF())
	require.NoError(t, err)
	sheets := bytes.Count(pdf, []byte("/Type /Page\n")) + bytes.Count(pdf, []byte("/Type /Page ")) + bytes.Count(pdf, []byte("/Type /Page/"))
	assert.Positive(t, sheets)
	assert.LessOrEqual(t, sheets, 4, "three grasses on one page")
	if dir := os.Getenv("KEEP"); dir != "" {
		require.NoError(t, os.WriteFile(filepath.Join(dir, "zone.pdf"), pdf, 0o666))
	}
}
