package boatfolder

import (
	"fmt"
	"strings"
	"unicode"
)

// written gives the ways to write a value in a yaml file, the best first. old is how the value was written before.
func written(text, old string, flow bool) []string {
	single, double := "'"+strings.ReplaceAll(text, "'", "''")+"'", doubleQuoted(text)
	plainly := !strings.ContainsFunc(text, unicode.IsControl)
	var out []string
	switch {
	case strings.HasPrefix(old, "'") && plainly:
		return []string{single, double}
	case strings.HasPrefix(old, `"`):
		return []string{double}
	}
	if safe(text, flow) {
		out = append(out, text)
	}
	if plainly && strings.ContainsAny(text, `"\`) {
		out = append(out, single)
	}
	return append(out, double)
}

// safe tells whether a value may stand without quotation marks. It is stricter than yaml.
func safe(text string, flow bool) bool {
	if text == "" || text != strings.TrimSpace(text) || strings.ContainsFunc(text, func(c rune) bool { return unicode.IsControl(c) || c == '\ufeff' || c == '\u2028' || c == '\u2029' }) {
		return false
	}
	switch text {
	case "null", "Null", "NULL", "~", "---", "...":
		return false
	}
	if strings.ContainsRune("?:,[]{}#&*!|>'\"%@`=<", rune(text[0])) || text[0] == '-' && (len(text) == 1 || text[1] == ' ') {
		return false
	}
	if strings.Contains(text, ": ") || strings.HasSuffix(text, ":") || strings.ContainsAny(text, "\"") || strings.Contains(text, " #") {
		return false
	}
	return !flow || !strings.ContainsAny(text, ",[]{}:")
}

func doubleQuoted(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, c := range text {
		switch {
		case c == '"' || c == '\\':
			b.WriteByte('\\')
			b.WriteRune(c)
		case c == '\n':
			b.WriteString(`\n`)
		case c == '\t':
			b.WriteString(`\t`)
		case c == '\r':
			b.WriteString(`\r`)
		case unicode.IsControl(c) || c == '\ufeff' || c == '\u2028' || c == '\u2029':
			fmt.Fprintf(&b, `\u%04x`, c)
		default:
			b.WriteRune(c)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// inBlock gives the ways to write text behind | or >, as it stood: old is the whole of it.
func inBlock(text, old string, indent int, lineEnd string) []string {
	if strings.TrimSpace(text) == "" || text != strings.TrimLeft(text, " \t\n") {
		return nil
	}
	head, body, _ := strings.Cut(old, "\n")
	head = strings.TrimSuffix(head, "\r")
	in := strings.Repeat(" ", indent+2)
	for _, line := range strings.Split(body, "\n") {
		if rest := strings.TrimLeft(line, " "); strings.TrimSpace(rest) != "" {
			in = line[:len(line)-len(rest)]
			break
		}
	}
	sign, remark := head, ""
	if at := strings.IndexByte(head, ' '); at > 0 {
		sign, remark = head[:at], head[at:]
	}
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	chomp := "-"
	if strings.HasSuffix(text, "\n") {
		chomp = ""
	}
	form := func(sign, between string) string {
		out := sign + remark
		for i, line := range lines {
			if i > 0 {
				out += between
			}
			if out += lineEnd; line != "" {
				out += in + line
			}
		}
		return out
	}
	gap := ""
	if sign[0] == '>' {
		gap = lineEnd
	}
	return []string{form(sign, gap), form(sign[:1]+chomp, gap), form("|"+chomp, "")}
}
