package diag

import (
	"slices"
	"strings"
)

// DidYouMean returns a remedy for a word that is not among the known ones:
// the nearest of them if one is near, else the list if it is short. An empty
// word is that of something that could not be read, and is no remedy.
func DidYouMean(word string, known []string) string {
	known = slices.DeleteFunc(slices.Clone(known), func(k string) bool { return k == "" })
	switch near := nearest(word, known); {
	case near != "":
		return "did you mean " + quote(near) + "?"
	case 0 < len(known) && len(known) <= 16:
		return "use one of " + strings.Join(slices.Sorted(slices.Values(known)), ", ")
	}
	return ""
}

// nearest returns the known word that is near to a word, or "".
func nearest(word string, known []string) string {
	sorted := slices.Sorted(slices.Values(known))
	best, bestDistance := "", max(2, len(word)/3)+1
	for _, k := range sorted {
		if d := distance(strings.ToLower(word), strings.ToLower(k)); d < bestDistance {
			best, bestDistance = k, d
		}
	}
	// A shortened word ("soil_temp_4in") is far in letters but near in kind.
	for _, k := range sorted {
		if best == "" && len(word) >= 4 && 2*len(word) >= len(k) && shortens(strings.ToLower(word), strings.ToLower(k)) {
			best = k
		}
	}
	return best
}

func quote(s string) string { return `"` + s + `"` }

// distance is the number of single-letter changes, swaps of neighbors
// included, that turn one word into the other.
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	rows := make([][]int, len(x)+1)
	for i := range rows {
		rows[i] = make([]int, len(y)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(x); i++ {
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			rows[i][j] = min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(x)][len(y)]
}

// shortens reports whether word is what is left of long when letters are left
// out of it.
func shortens(word, long string) bool {
	for _, r := range long {
		if len(word) > 0 && strings.HasPrefix(word, string(r)) {
			word = word[len(string(r)):]
		}
	}
	return word == ""
}
