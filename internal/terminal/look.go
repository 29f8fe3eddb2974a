package terminal

import (
	"io"
	"os"
	"strconv"
	"strings"

	"golang.org/x/term"
)

// Look is what the terminal can show.
type Look struct {
	Width   int  // columns, 40 to 120
	Unicode bool // beyond ASCII: braille, lines, the true minus
	Colour  bool // bold and dim; never the only bearer of a meaning
}

// The widths the text adapts to; lines longer than the most are tiring to read.
const (
	narrowest = 40
	usual     = 80
	widest    = 120
)

// LookOf finds out what an output can show, from the output itself and from the
// environment: NO_COLOR, TERM, COLUMNS and the locale.
func LookOf(out io.Writer, env func(string) string) Look {
	l := Look{Width: usual, Unicode: unicode(env)}
	f, isFile := out.(*os.File)
	if isFile && term.IsTerminal(int(f.Fd())) {
		if w, _, err := term.GetSize(int(f.Fd())); err == nil && w > 0 {
			l.Width = w
		}
		l.Colour = env("NO_COLOR") == "" && env("TERM") != "dumb"
	}
	if w, err := strconv.Atoi(env("COLUMNS")); err == nil && w > 0 {
		l.Width = w
	}
	l.Width = min(max(l.Width, narrowest), widest)
	return l
}

// unicode tells whether the locale's letters are UTF-8; the first of the three
// variables that is set decides, as the C library has it.
func unicode(env func(string) string) bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := env(name); v != "" {
			v = strings.ToLower(v)
			return strings.Contains(v, "utf-8") || strings.Contains(v, "utf8")
		}
	}
	return false
}

// bold marks the words that matter.
func (l Look) bold(s string) string { return l.paint("1", s) }

// dim sets small print back.
func (l Look) dim(s string) string { return l.paint("2", s) }

// paint wraps words in an escape code where the terminal takes them.
func (l Look) paint(code, s string) string {
	if !l.Colour || s == "" {
		return s
	}
	return "\x1b[" + code + "m" + s + "\x1b[0m"
}

// plain is what ASCII can say of the signs the answers use.
var plain = strings.NewReplacer(
	"−", "-", "–", "-", "—", "-", "±", "+-", "°", " deg", "×", "x", "·", ".", "≥", ">=", "≤", "<=",
	"³", "3", "²", "2", "½", "1/2", "‘", "'", "’", "'", "“", `"`, "”", `"`, "…", "...", "é", "e", "→", "->", "≈", "~", "Δ", "d", "′", "'", "″", `"`)

// say turns words into what the terminal can show.
func (l Look) say(s string) string {
	if l.Unicode {
		return s
	}
	return strings.ReplaceAll(plain.Replace(s), "  deg", " deg")
}

// bare takes the escape codes out, to count columns.
var bare = strings.NewReplacer("\x1b[1m", "", "\x1b[2m", "", "\x1b[0m", "")
