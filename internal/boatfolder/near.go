package boatfolder

import (
	"fmt"
	"slices"
	"strings"

	"thole/internal/model"
	"thole/internal/units"
)

// nearest gives the known name that a person may have meant, or "".
func nearest(word string, known []string) string {
	word = plainName(word)
	best, least := "", 1+min(3, 1+len(word)/4)
	if len(word) > 80 {
		return ""
	}
	for _, name := range known {
		if d := distance([]rune(word), []rune(plainName(name))); d < least {
			best, least = name, d
		}
	}
	return best
}

// meant is the mend for an unknown name.
func meant(word string, known []string, what string) string {
	if name := nearest(word, known); name != "" {
		return fmt.Sprintf("did you mean %s?", name)
	}
	if len(known) == 0 {
		return "there are no " + what + " in boat.yaml"
	}
	shown := known[:min(len(known), 20)]
	more := ""
	if len(shown) < len(known) {
		more = ", …"
	}
	for i, name := range shown {
		if i == 0 {
			shown = slices.Clone(shown)
		}
		shown[i] = units.Shorten(name)
	}
	return fmt.Sprintf("known %s: %s%s", what, strings.Join(shown, ", "), more)
}

// plainName drops what people write differently: case, spaces, hyphens.
func plainName(name string) string { return model.PlainName(name) }

// distance is the least number of letters to change, add, drop or swap with
// their neighbour to make one word of another.
//
// Source: Damerau, "A technique for computer detection and correction of
// spelling errors", CACM 7 (1964); in its restricted form
func distance(a, b []rune) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := 1
			if a[i-1] == b[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
