package exchange

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"
)

// byteMark is what tells a spreadsheet that a text is UTF-8.
const byteMark = "\ufeff"

// dialect is how a csv is written.
type dialect struct {
	semicolons bool // between columns, and decimal commas in numbers
}

func (d dialect) separator() string {
	if d.semicolons {
		return ";"
	}
	return ","
}

// number writes a number with the dialect's decimal sign, never as -0.
func (d dialect) number(v float64, places int) string {
	text := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Trim(text, "-0.") == "" {
		text = strings.TrimPrefix(text, "-")
	}
	if d.semicolons {
		text = strings.Replace(text, ".", ",", 1)
	}
	return text
}

// dangers begin what a spreadsheet may take for a formula, in their wide forms of Asian keyboards too.
//
// Source: OWASP, "CSV Injection" (from memory): cells that begin with = + - @, a tab, or a carriage return or line feed
const dangers = "=+-@\t\r\n＝＋－＠"

// guard puts an apostrophe before what a spreadsheet may take for a formula, and before what looks guarded already.
func guard(s string) string {
	if begins, _ := utf8.DecodeRuneInString(strings.TrimLeft(s, "'")); begins != utf8.RuneError && strings.ContainsRune(dangers, begins) {
		return "'" + s
	}
	return s
}

// unguard gives back what guard was given.
func unguard(s string) string {
	if begins, _ := utf8.DecodeRuneInString(strings.TrimLeft(s, "'")); strings.HasPrefix(s, "'") && begins != utf8.RuneError && strings.ContainsRune(dangers, begins) {
		return s[1:]
	}
	return s
}

// write sets rows as csv.
//
// Source: RFC 4180, section 2
func write(rows [][]string, d dialect) []byte {
	var b strings.Builder
	for _, r := range rows {
		for i, c := range r {
			if i > 0 {
				b.WriteString(d.separator())
			}
			// Either separator is quoted, since a spreadsheet may look for the other one; a # would begin a remark; a blank line is no row.
			if strings.ContainsAny(c, ",;\"\r\n\t") && (!d.semicolons || len(r) == 1 || !bareNumber.MatchString(c)) || c != strings.TrimSpace(c) || strings.HasPrefix(c, "#") || strings.HasPrefix(c, byteMark) || c == "" && len(r) == 1 {
				c = `"` + strings.ReplaceAll(c, `"`, `""`) + `"`
			}
			b.WriteString(c)
		}
		b.WriteString("\r\n")
	}
	text := b.String()
	for i := range len(text) {
		if text[i] >= utf8.RuneSelf {
			return []byte(byteMark + text)
		}
	}
	return []byte(text)
}

// taken is a csv that was read.
type taken struct {
	dialect
	rows  [][]string
	lines []int // on which each row begins; 1 is the first
}

// largest bounds what is taken.
const largest = 4 << 20

// read reads a csv as write and spreadsheets write it: commas, semicolons or tabs between the columns, whichever the first row has most
// of, any line ends, a byte order mark or none. Blank rows and lines that begin with # are passed over. Guards are dropped.
//
// Error: with the line, where it is no text or a quotation mark is not closed
func read(data []byte) (*taken, error) {
	switch {
	case len(data) > largest:
		return nil, errors.New("larger than 4 MB: is it the right file?")
	case !utf8.Valid(data) || strings.IndexByte(string(data), 0) >= 0:
		return nil, errors.New("it is not plain text in UTF-8 (save it as csv, UTF-8)")
	}
	text := strings.TrimPrefix(string(data), byteMark)
	separator := mostOf(text)
	out := &taken{dialect: dialect{semicolons: separator == ';'}}
	line := 1
	for at := 0; at < len(text); {
		if text[at] == '#' {
			for at < len(text) && text[at] != '\n' && text[at] != '\r' {
				at++
			}
			at = passLineEnd(text, at, &line)
			continue
		}
		begin := line
		var row []string
		for {
			cell, next, err := readCell(text, at, separator, &line)
			if err != nil {
				return nil, fmt.Errorf("line %d: %w", begin, err)
			}
			row, at = append(row, unguard(cell)), next
			if at < len(text) && text[at] == separator {
				at++
				continue
			}
			break
		}
		at = passLineEnd(text, at, &line)
		if strings.TrimSpace(strings.Join(row, "")) != "" {
			out.rows, out.lines = append(out.rows, row), append(out.lines, begin)
		}
	}
	return out, nil
}

// readCell reads one cell, which ends before a separator or a line end.
func readCell(text string, at int, separator byte, line *int) (string, int, error) {
	if at >= len(text) || text[at] != '"' {
		from := at
		for at < len(text) && text[at] != separator && text[at] != '\n' && text[at] != '\r' {
			at++
		}
		return text[from:at], at, nil
	}
	var b strings.Builder
	for at++; at < len(text); at++ {
		switch c := text[at]; {
		case c != '"':
			if c == '\n' || c == '\r' && (at+1 >= len(text) || text[at+1] != '\n') {
				*line++
			}
			b.WriteByte(c)
		case at+1 < len(text) && text[at+1] == '"':
			b.WriteByte('"')
			at++
		default:
			// Letters behind the mark belong to the cell, as spreadsheets read it.
			for at++; at < len(text) && text[at] != separator && text[at] != '\n' && text[at] != '\r'; at++ {
				b.WriteByte(text[at])
			}
			return b.String(), at, nil
		}
	}
	return "", at, errors.New("a quotation mark is not closed in this row")
}

// passLineEnd goes behind one line end, of any kind.
func passLineEnd(text string, at int, line *int) int {
	switch {
	case at >= len(text):
		return at
	case strings.HasPrefix(text[at:], "\r\n"):
		at++
	}
	*line++
	return at + 1
}

// mostOf is the separator that the first row has most of, quotation marks heeded; a comma where it has none.
func mostOf(text string) byte {
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, "#") || strings.Trim(line, " \t\r\n,;") == "" {
			continue
		}
		count := map[byte]int{}
		quoted := false
		for i := range len(line) {
			if line[i] == '"' {
				quoted = !quoted
			}
			if !quoted {
				count[line[i]]++
			}
		}
		best := byte(',')
		for _, s := range []byte{';', '\t'} {
			if count[s] > count[best] {
				best = s
			}
		}
		return best
	}
	return ','
}
