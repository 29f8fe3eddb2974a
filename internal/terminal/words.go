package terminal

import (
	"strings"

	"github.com/mattn/go-runewidth"
)

// columns is how many columns a text takes on the terminal.
func columns(s string) int { return runewidth.StringWidth(s) }

// wrap breaks a text into lines of at most so many columns. A word longer than
// a line stands on a line of its own.
func wrap(s string, width int) []string {
	var lines []string
	for _, para := range strings.Split(s, "\n") {
		line, room := "", 0
		for _, word := range strings.Fields(para) {
			w := columns(word)
			if line != "" && room+1+w > width {
				lines, line, room = append(lines, line), "", 0
			}
			if line != "" {
				line, room = line+" ", room+1
			}
			line, room = line+word, room+w
		}
		lines = append(lines, line)
	}
	return lines
}

// pad fills a text with blanks on the right.
func pad(s string, width int) string {
	if n := width - columns(s); n > 0 {
		return s + strings.Repeat(" ", n)
	}
	return s
}

// padLeft fills a text with blanks on the left.
func padLeft(s string, width int) string {
	if n := width - columns(s); n > 0 {
		return strings.Repeat(" ", n) + s
	}
	return s
}
