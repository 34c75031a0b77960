package publish

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// siteOf makes a site of files; "*" after a path marks an entry point.
func siteOf(t testing.TB, files map[string]string) *Site {
	t.Helper()
	var all []File
	for _, path := range slices.Sorted(maps.Keys(files)) {
		name, entry := strings.CutSuffix(path, "*")
		all = append(all, File{Path: name, Body: []byte(files[path]), Entry: entry})
	}
	s, err := newSite(all)
	require.NoError(t, err)
	return s
}

// onDisk reads a folder back: path to content. The manifest is left out.
func onDisk(t testing.TB, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	require.NoError(t, fs.WalkDir(os.DirFS(dir), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path == manifestName {
			return err
		}
		body, err := os.ReadFile(filepath.Join(dir, path))
		out[path] = string(body)
		return err
	}))
	return out
}

func contents(s *Site) map[string]string {
	out := map[string]string{}
	for _, f := range s.Files {
		out[f.Path] = string(f.Body)
	}
	return out
}

func write(t testing.TB, s *Site, dir string) Report {
	t.Helper()
	r, err := Write(s, dir)
	require.NoError(t, err)
	return r
}

func TestSecondWriteTouchesNothing(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a", "public")
	site := plain(t)
	n := len(site.Files)
	assert.Equal(t, Report{Written: n}, write(t, site, dir))
	assert.Equal(t, contents(site), onDisk(t, dir))
	times := modTimes(t, dir)
	assert.Equal(t, Report{Unchanged: n}, write(t, site, dir))
	assert.Equal(t, times, modTimes(t, dir), "not even the manifest is touched")
}

func modTimes(t testing.TB, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := d.Info()
		out[path] = fmt.Sprint(info.ModTime().UnixNano())
		return err
	}))
	return out
}

func TestWriteChangesWhatDiffers(t *testing.T) {
	dir := t.TempDir()
	write(t, siteOf(t, map[string]string{"index.html*": "1", "zones/a/index.html": "a", "zones/b/index.html": "b", "issues/2026-W47/index.html": "47"}), dir)
	before := modTimes(t, dir)
	r := write(t, siteOf(t, map[string]string{"index.html*": "2", "zones/a/index.html": "a", "issues/2026-W48/index.html": "48"}), dir)
	assert.Equal(t, Report{Written: 2, Unchanged: 1, Removed: 1}, r)
	assert.Equal(t, map[string]string{
		"index.html": "2", "zones/a/index.html": "a",
		"issues/2026-W47/index.html": "47", // of an issue: stays, although nobody prints it now
		"issues/2026-W48/index.html": "48",
	}, onDisk(t, dir))
	assert.Equal(t, before[filepath.Join(dir, "zones/a/index.html")], modTimes(t, dir)[filepath.Join(dir, "zones/a/index.html")])
	assert.NoDirExists(t, filepath.Join(dir, "zones/b"), "an empty folder goes with its last page")
	// The page stays known: it can be printed again, and still is never removed.
	r = write(t, siteOf(t, map[string]string{"index.html*": "3"}), dir)
	assert.Equal(t, Report{Written: 1, Removed: 1}, r)
	assert.Equal(t, map[string]string{"index.html": "3", "issues/2026-W47/index.html": "47", "issues/2026-W48/index.html": "48"}, onDisk(t, dir))
}

func TestWriteLeavesWhatItDidNotPrint(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "CNAME"), []byte("example.org"), 0o644))
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "zones/a"), 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "zones/a/mine.txt"), []byte("mine"), 0o644))
	write(t, siteOf(t, map[string]string{"index.html*": "1", "zones/a/index.html": "a"}), dir)
	r := write(t, siteOf(t, map[string]string{"index.html*": "1"}), dir)
	assert.Equal(t, 1, r.Removed)
	assert.Equal(t, map[string]string{"CNAME": "example.org", "index.html": "1", "zones/a/mine.txt": "mine"}, onDisk(t, dir))
}

func TestWriteFollowsNoLinkOutside(t *testing.T) {
	outside := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(outside, "index.html"), []byte("precious"), 0o644))
	site := siteOf(t, map[string]string{"index.html*": "1", "zones/a/index.html": "a"})
	for name, spoil := range map[string]func(dir string) error{
		"a folder": func(dir string) error { return os.Symlink(outside, filepath.Join(dir, "zones")) },
		"a file": func(dir string) error {
			return os.Symlink(filepath.Join(outside, "index.html"), filepath.Join(dir, "index.html"))
		},
		"the manifest": func(dir string) error {
			return os.Symlink(filepath.Join(outside, "index.html"), filepath.Join(dir, manifestName))
		},
	} {
		dir := t.TempDir()
		require.NoError(t, spoil(dir))
		_, err := Write(site, dir)
		require.Error(t, err, name)
		assert.Equal(t, map[string]string{"index.html": "precious"}, onDisk(t, outside), name)
	}
}

func TestWriteTrustsNoForeignManifest(t *testing.T) {
	site := siteOf(t, map[string]string{"index.html*": "1"})
	for _, text := range []string{"", "zones/a/index.html\n", headWhole + "\n../outside\n", headWhole + "\n/etc/passwd\n", headWhole + "\n.\n", headWhole + "\n" + manifestName + "\n", headPartial + "\na//b\n"} {
		dir := t.TempDir()
		require.NoError(t, os.WriteFile(filepath.Join(dir, manifestName), []byte(text), 0o644))
		_, err := Write(site, dir)
		require.Error(t, err, "%q", text)
		assert.Empty(t, onDisk(t, dir), "%q: nothing was changed", text)
	}
}

func TestWriteRemovesNoLinkAndNoFolder(t *testing.T) {
	dir := t.TempDir()
	write(t, siteOf(t, map[string]string{"index.html*": "1", "a.html": "a", "b.html": "b"}), dir)
	require.NoError(t, os.Remove(filepath.Join(dir, "a.html")))
	require.NoError(t, os.Symlink("index.html", filepath.Join(dir, "a.html")))
	require.NoError(t, os.Remove(filepath.Join(dir, "b.html")))
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "b.html/deep"), 0o755))
	r := write(t, siteOf(t, map[string]string{"index.html*": "1"}), dir)
	assert.Zero(t, r.Removed)
	_, err := os.Readlink(filepath.Join(dir, "a.html"))
	assert.NoError(t, err)
	assert.DirExists(t, filepath.Join(dir, "b.html/deep"))
}

var errPower = errors.New("the power went off")

// failing is a disk on which the operation number at fails and, as after a
// power cut, every one after it. A file that was being created is left half
// written.
func failing(at int, done *int, log *[]string) disk {
	real := realDisk()
	step := func(what string, do, half func() error) error {
		*done++
		if *done > at {
			return errPower
		}
		if *done == at {
			return errors.Join(half(), errPower)
		}
		*log = append(*log, what)
		return do()
	}
	nothing := func() error { return nil }
	return disk{
		create: func(root *os.Root, name string, body []byte) error {
			return step("create "+name, func() error { return real.create(root, name, body) },
				func() error { return real.create(root, name, body[:len(body)/2]) })
		},
		rename: func(root *os.Root, from, to string) error {
			return step("place "+to, func() error { return real.rename(root, from, to) }, nothing)
		},
		remove: func(root *os.Root, name string) error {
			return step("remove "+name, func() error { return real.remove(root, name) }, nothing)
		},
		settle: real.settle,
	}
}

// writeWith writes with a disk of one's own.
func writeWith(t testing.TB, s *Site, dir string, d disk) error {
	t.Helper()
	root, err := os.OpenRoot(dir)
	require.NoError(t, err)
	defer root.Close()
	_, err = writer{root, d}.write(s)
	return err
}

// Whatever operation the power goes off at, every page is the old or the new
// one, whole; no entry point is new while a page is old; nothing is gone that
// an old entry point leads to; and the next press makes the site what an
// undisturbed one would have made it.
func TestPowerCutAtAnyMoment(t *testing.T) {
	old := siteOf(t, map[string]string{
		"index.html*": "old home", "feed.xml*": "old feed", "sitemap.xml*": "old map", "site.css": "same",
		"zones/a/index.html": "old a", "zones/gone/index.html": "gone", "issues/2026-W47/index.html": "47",
	})
	next := siteOf(t, map[string]string{
		"index.html*": "new home", "feed.xml*": "new feed", "sitemap.xml*": "new map", "site.css": "same",
		"zones/a/index.html": "new a", "zones/b/index.html": "new b", "zones/b/feed.xml*": "feed b", "issues/2026-W48/index.html": "48",
	})
	want := contents(next)
	want["issues/2026-W47/index.html"] = "47"
	interrupted := 0
	for at := 1; ; at++ {
		dir := t.TempDir()
		write(t, old, dir)
		done := 0
		var log []string
		err := writeWith(t, next, dir, failing(at, &done, &log))
		if err == nil {
			assert.Equal(t, want, onDisk(t, dir))
			break
		}
		require.ErrorIs(t, err, errPower)
		interrupted++
		checkCrash(t, fmt.Sprintf("after %d operations", at-1), onDisk(t, dir), old, next)
		r := write(t, next, dir)
		assert.Equal(t, want, onDisk(t, dir), "after %d operations: the next press finishes", at-1)
		assert.NoDirExists(t, filepath.Join(dir, "zones/gone"))
		assert.Equal(t, len(next.Files), r.Written+r.Unchanged)
		again := modTimes(t, dir)
		write(t, next, dir)
		assert.Equal(t, again, modTimes(t, dir))
	}
	// Two for the manifest, two for each of seven files, one to remove, two for the manifest.
	assert.Equal(t, 2+2*7+1+2, interrupted)
}

// What an interrupted press left half written beside a page is gone after the next
// one, though that has nothing to write there.
func TestAnInterruptedPressLeavesNothingBehind(t *testing.T) {
	old := siteOf(t, map[string]string{"index.html*": "home", "zones/a/index.html": "old a", "zones/b/index.html": "b"})
	next := siteOf(t, map[string]string{"index.html*": "home", "zones/a/index.html": "new a", "zones/b/index.html": "b"})
	dir := t.TempDir()
	write(t, old, dir)
	done := 0
	// Two operations for the manifest; the third creates the page beside its place.
	require.ErrorIs(t, writeWith(t, next, dir, failing(3, &done, new([]string))), errPower)
	beside := filepath.Join(dir, filepath.FromSlash(temporary("zones/a/index.html")))
	require.FileExists(t, beside)
	write(t, old, dir)
	assert.NoFileExists(t, beside)
	assert.Equal(t, contents(old), onDisk(t, dir))
}

// No entry point is placed before the folders of all pages are on disk, and none
// is left unsettled at the end.
func TestEntryPointsWaitForPages(t *testing.T) {
	unsettled := map[string]bool{}
	d := realDisk()
	rename, settle := d.rename, d.settle
	d.rename = func(root *os.Root, from, to string) error {
		if to == "index.html" || to == "feed.xml" || to == "zones/b/feed.xml" {
			for _, page := range []string{"zones/a/index.html", "zones/b/index.html"} {
				assert.False(t, unsettled[page], "%s is placed before %s has reached the disk", to, page)
			}
		}
		unsettled[to] = true
		return rename(root, from, to)
	}
	d.settle = func(root *os.Root, dir string) error {
		for name := range unsettled {
			if path.Dir(name) == dir {
				delete(unsettled, name)
			}
		}
		return settle(root, dir)
	}
	require.NoError(t, writeWith(t, siteOf(t, map[string]string{
		"index.html*": "home", "feed.xml*": "feed", "zones/a/index.html": "a", "zones/b/index.html": "b", "zones/b/feed.xml*": "feed b",
	}), t.TempDir(), d))
	assert.Empty(t, unsettled)
}

func checkCrash(t *testing.T, when string, disk map[string]string, old, next *Site) {
	t.Helper()
	pagesNew, entriesOld := true, true
	for _, f := range next.Files {
		got, there := disk[f.Path]
		before, had := old.Find(f.Path)
		if there {
			assert.True(t, got == string(f.Body) || had && got == string(before.Body), "%s: %s is %q", when, f.Path, got)
		} else {
			assert.False(t, had, "%s: %s is gone", when, f.Path)
		}
		isNew := there && got == string(f.Body)
		if f.Entry {
			entriesOld = entriesOld && !isNew
		} else {
			pagesNew = pagesNew && isNew
		}
	}
	assert.True(t, pagesNew || entriesOld, "%s: an entry point leads to pages that are not there yet", when)
	if disk["index.html"] == "old home" {
		assert.Equal(t, "gone", disk["zones/gone/index.html"], "%s: the old front page still leads here", when)
	}
	for path := range disk {
		_, isOld := old.Find(path)
		_, isNew := next.Find(path)
		assert.True(t, isOld || isNew || strings.HasSuffix(path, ".tmp"), "%s: %s", when, path)
	}
}

func TestEntryPointsAreWrittenLast(t *testing.T) {
	dir := t.TempDir()
	site := plain(t)
	require.NoError(t, os.MkdirAll(dir, 0o755))
	done := 0
	var log []string
	require.NoError(t, writeWith(t, site, dir, failing(1<<30, &done, &log)))
	var placed []string
	for _, l := range log {
		if name, ok := strings.CutPrefix(l, "place "); ok && name != manifestName {
			placed = append(placed, name)
		}
	}
	require.Len(t, placed, len(site.Files))
	assert.Equal(t, []string{"zones/brackmoor/feed.xml", "zones/ellerwade/feed.xml", "zones/gannet-shore/calendar.ics", "zones/gannet-shore/feed.xml", "local-rules/feed.xml", "feed.xml", "sitemap.xml", "index.html"}, placed[len(placed)-8:])
	// What a page leads to further down is there before the page.
	at := func(name string) int { return slices.Index(placed, name) }
	assert.Less(t, at("zones/gannet-shore/zoysia/working/index.html"), at("zones/gannet-shore/zoysia/index.html"))
	assert.Less(t, at("zones/gannet-shore/zoysia/index.html"), at("zones/gannet-shore/index.html"))
}

// However sites follow each other, the folder ends as the last one, with the
// pages of all issues.
func TestWriteAnySequence(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		dir, err := os.MkdirTemp(t.TempDir(), "site")
		require.NoError(r, err)
		names := []string{"index.html*", "feed.xml*", "site.css", "zones/a/index.html", "zones/a/b/index.html", "zones/c/index.html", "issues/2026-W47/index.html", "issues/2026-W48/a/index.html"}
		kept := map[string]string{}
		for range rapid.IntRange(1, 5).Draw(r, "sites") {
			files := map[string]string{}
			for _, n := range names {
				if rapid.Bool().Draw(r, n) {
					files[n] = rapid.SampledFrom([]string{"1", "2", "3"}).Draw(r, "body")
				}
			}
			s := siteOf(t, files)
			for path := range kept {
				if !isPermanent(path) {
					delete(kept, path)
				}
			}
			maps.Copy(kept, contents(s))
			if cut := rapid.IntRange(0, 12).Draw(r, "cut"); cut > 0 {
				done := 0
				var log []string
				if err := writeWith(t, s, dir, failing(cut, &done, &log)); err != nil {
					require.ErrorIs(r, err, errPower)
				}
			}
			_, err := Write(s, dir)
			require.NoError(r, err)
			assert.Equal(r, kept, onDisk(t, dir))
		}
	})
}

func FuzzManifest(f *testing.F) {
	f.Add([]byte(headWhole + "\na.html\nzones/b/index.html\n"))
	f.Add([]byte(headPartial + "\n"))
	f.Add([]byte(headWhole + "\n../x\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		m, err := parseManifest(text)
		if err != nil {
			return
		}
		for _, p := range m.paths {
			assert.True(t, filepath.IsLocal(p) && p != manifestName, "%q", p)
		}
		again, err := parseManifest(m.bytes())
		require.NoError(t, err)
		assert.Equal(t, m.whole, again.whole)
		assert.True(t, bytes.Equal(m.bytes(), again.bytes()))
	})
}

func TestPermanentPaths(t *testing.T) {
	for path, want := range map[string]bool{
		"issues/2026-W48/index.html": true, "issues/2026-W48/shore/newsletter/newsletter.txt": true,
		"issues/index.html": false, "issues/2026-W99/index.html": false, "zones/issues/2026-W48/index.html": false, "issues/2026-W48": false,
	} {
		assert.Equal(t, want, isPermanent(path), path)
	}
}

func BenchmarkWriteUnchanged(b *testing.B) {
	dir := b.TempDir()
	site := newWorld(b, nil).render(b)
	write(b, site, dir)
	b.ReportAllocs()
	for b.Loop() {
		if r := write(b, site, dir); r.Written != 0 {
			b.Fatal("written again")
		}
	}
}
