package publish

import (
	"strings"
	"unicode/utf8"

	"ligule/internal/workspace"
)

// wrap breaks a text into lines of at most workspace.TextWidth characters, the first
// behind one prefix and the others behind as many spaces. A word that is
// longer than a line stands alone on one.
func wrap(prefix, text string) string {
	return workspace.Wrap(text, workspace.TextWidth, prefix, strings.Repeat(" ", utf8.RuneCountInString(prefix)))
}

// plainSigns are the signs that the text edition writes in ASCII, so that it
// reads the same in every mail program.
var plainSigns = strings.NewReplacer(
	"°F", "F", "°C", "C", "°", " degrees", "−", "-", "–", "-", "—", "--", "‑", "-",
	"‘", "'", "’", "'", "“", `"`, "”", `"`, "…", "...", "·", "-", "•", "-", "×", "x",
	"²", "2", "³", "3", "½", "1/2", "¼", "1/4", "¾", "3/4",
	"\u00a0", " ", "\u202f", " ", "\u2009", " ",
)

// letterText finishes the text edition: plain signs, links absolute, no space
// at a line's end, never two empty lines, and no line that mail programs would
// take for a quotation, a mailbox's separator or a signature.
func letterText(text, baseURL string) string {
	var out []string
	blank := true
	for _, line := range strings.Split(plainSigns.Replace(text), "\n") {
		line = strings.TrimRight(line, " \t\r")
		trimmed := strings.TrimLeft(line, " \t")
		if strings.HasPrefix(trimmed, "/") && !strings.HasPrefix(trimmed, "//") && !strings.Contains(trimmed, " ") {
			line = line[:len(line)-len(trimmed)] + baseURL + trimmed
		}
		if line == "" {
			if !blank {
				out = append(out, "")
			}
			blank = true
			continue
		}
		blank = false
		lines := []string{line}
		// What an author or a sign's longer spelling made too wide.
		if utf8.RuneCountInString(line) > workspace.TextWidth {
			trimmed = strings.TrimLeft(line, " ")
			lines = strings.Split(wrap(line[:len(line)-len(trimmed)], trimmed), "\n")
		}
		for _, l := range lines {
			if strings.HasPrefix(l, ">") || strings.HasPrefix(l, "From ") || l == "--" {
				l = " " + l
			}
			out = append(out, l)
		}
	}
	return strings.TrimRight(strings.Join(out, "\n"), "\n") + "\n"
}
