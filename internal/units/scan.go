package units

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// longest is how many bytes a written quantity may have; the longest honest
// one ("21 ft 11 15/16 in +- 3/16 in") has about thirty.
const longest = 80

// largest bounds the size of any number, so that no conversion can overflow.
const largest = 1e12

// Error says what is wrong with a quantity as it was written, and the mend.
type Error struct {
	Kind   string // what was looked for: mass, length, latitude
	Text   string // the whole text
	Offset int    // the byte in Text at which the trouble starts
	Say    string // what is wrong, to stand behind the text: "has no unit"
	Mend   string // what to write: "write 42 kg"
}

// Error gives the trouble in one line: mass "42" has no unit (write 42 kg).
func (e *Error) Error() string {
	return fmt.Sprintf("%s %q %s (%s)", e.Kind, Shorten(e.Text), e.Say, e.Mend)
}

// Shorten cuts a text to a length that fits into a message.
func Shorten(text string) string {
	const most = 40
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	return string([]rune(text)[:most]) + "…"
}

// unit is one way to write a unit; SI = number * mul / div. Two factors keep
// "9 mm" the same float as 0.009.
type unit struct {
	mul, div float64
	names    []string // the first is the one that mends name
}

// scan walks over the text of one quantity.
type scan struct {
	kind, text string
	at         int
	example    string // a right one, for the mend
}

func newScan(kind, text, example string) (*scan, error) {
	s := &scan{kind: kind, text: text, example: example}
	if len(text) > longest {
		return nil, s.fail(longest, "is too long for a quantity", "write it like "+example)
	}
	if !utf8.ValidString(text) {
		return nil, s.fail(0, "is not readable text", "save the file as UTF-8")
	}
	s.skip()
	if s.end() {
		return nil, s.fail(s.at, "is empty", "write it like "+example)
	}
	return s, nil
}

func (s *scan) fail(at int, say, mend string) error {
	return &Error{Kind: s.kind, Text: s.text, Offset: min(at, len(s.text)), Say: say, Mend: mend}
}

func (s *scan) rest() string { return s.text[s.at:] }

func (s *scan) end() bool { return s.at >= len(s.text) }

func (s *scan) skip() {
	trimmed := strings.TrimLeftFunc(s.rest(), unicode.IsSpace)
	s.at = len(s.text) - len(trimmed)
}

// take steps over the first of the given texts that comes next.
func (s *scan) take(any ...string) bool {
	for _, t := range any {
		if strings.HasPrefix(s.rest(), t) {
			s.at += len(t)
			return true
		}
	}
	return false
}

// sign reads a leading sign: -1 or 1.
func (s *scan) sign() float64 {
	defer s.skip()
	if s.take("-", "−") {
		return -1
	}
	s.take("+")
	return 1
}

func digits(text string) int {
	n := 0
	for n < len(text) && text[n] >= '0' && text[n] <= '9' {
		n++
	}
	return n
}

var vulgar = map[rune]float64{
	'½': 1. / 2, '¼': 1. / 4, '¾': 3. / 4,
	'⅛': 1. / 8, '⅜': 3. / 8, '⅝': 5. / 8, '⅞': 7. / 8,
}

// number reads a number without a sign: 12, 0.42, 1.2e3, 3/4, 3 1/2, 3½.
func (s *scan) number() (float64, error) {
	start, text := s.at, s.rest()
	if r, size := utf8.DecodeRuneInString(text); vulgar[r] != 0 {
		s.at += size
		s.skip()
		return vulgar[r], nil
	}
	n := digits(text)
	whole := n > 0
	if n < len(text) && text[n] == '.' {
		after := digits(text[n+1:])
		if n+after == 0 {
			return 0, s.notNumber(start)
		}
		whole = false
		n += 1 + after
	}
	if n == 0 {
		return 0, s.notNumber(start)
	}
	if n < len(text) && (text[n] == 'e' || text[n] == 'E') {
		after := n + 1
		if after < len(text) && (text[after] == '+' || text[after] == '-') {
			after++
		}
		if d := digits(text[after:]); d > 0 {
			n = after + d
			whole = false
		}
	}
	value, err := strconv.ParseFloat(text[:n], 64)
	if err != nil || math.Abs(value) > largest {
		return 0, s.fail(start, "is out of all bounds", "write it like "+s.example)
	}
	s.at += n
	if whole {
		if value, err = s.fraction(value); err != nil {
			return 0, err
		}
	}
	if d := s.rest(); len(d) > 1 && d[0] == ',' && digits(d[1:]) > 0 {
		return 0, s.fail(s.at, "has a comma in the number", "write a point before decimals and nothing between thousands")
	}
	s.skip()
	return value, nil
}

func (s *scan) notNumber(at int) error {
	return s.fail(at, "does not start with a number", "write it like "+s.example)
}

// fraction reads what may stand behind a whole number: "/4" makes it a
// fraction, " 1/2" and "½" add one.
func (s *scan) fraction(whole float64) (float64, error) {
	start := s.at
	if s.take("/") {
		return s.over(whole, start)
	}
	s.skip()
	if r, size := utf8.DecodeRuneInString(s.rest()); vulgar[r] != 0 {
		s.at += size
		return whole + vulgar[r], nil
	}
	n := digits(s.rest())
	if n == 0 || n > 6 || !strings.HasPrefix(s.rest()[n:], "/") {
		s.at = start
		return whole, nil
	}
	top, _ := strconv.ParseFloat(s.rest()[:n], 64)
	s.at += n + 1
	part, err := s.over(top, start)
	if err == nil && part >= 1 {
		err = s.fail(start, "has a fraction of one or more behind a whole number", "write it like 3 1/2 in")
	}
	return whole + part, err
}

func (s *scan) over(top float64, start int) (float64, error) {
	n := digits(s.rest())
	under, _ := strconv.ParseFloat(s.rest()[:n], 64)
	if n == 0 || n > 6 || under == 0 {
		return 0, s.fail(start, "has a fraction that is not one", "write it like 3 1/2 in")
	}
	s.at += n
	return top / under, nil
}

// unit reads one unit of a table and gives the index of its row.
func (s *scan) unit(table []unit) (int, error) {
	start := s.at
	best, length := -1, 0
	for i, u := range table {
		for _, name := range u.names {
			if len(name) > length && strings.HasPrefix(s.rest(), name) && !runsOn(name, s.rest()[len(name):]) {
				best, length = i, len(name)
			}
		}
	}
	if best < 0 {
		word := strings.TrimSpace(s.rest())
		return 0, s.fail(start, fmt.Sprintf("has %q where a unit of %s is due", Shorten(word), s.kind), s.unitMend(word, table))
	}
	s.at += length
	s.skip()
	return best, nil
}

// runsOn tells whether a unit's name goes on into a longer word: "mmm" is not mm.
func runsOn(name, after string) bool {
	last, _ := utf8.DecodeLastRuneInString(name)
	next, _ := utf8.DecodeRuneInString(after)
	if !unicode.IsLetter(last) && !unicode.IsDigit(last) {
		return false
	}
	return unicode.IsLetter(next) || next == '/' || next == '³' || next == '²'
}

func (s *scan) unitMend(word string, table []unit) string {
	number := strings.TrimSpace(s.text[:s.at])
	var all []string
	for _, u := range table {
		all = append(all, u.names[0])
		for _, name := range u.names {
			if strings.EqualFold(name, word) || strings.EqualFold(name+"s", word) || strings.EqualFold(name+".", word) {
				return fmt.Sprintf("write %s %s", number, u.names[0])
			}
		}
	}
	last := len(all) - 1
	return fmt.Sprintf("write %s or %s", strings.Join(all[:last], ", "), all[last])
}

// done fails when something is left over.
func (s *scan) done() error {
	s.skip()
	if s.end() {
		return nil
	}
	return s.fail(s.at, fmt.Sprintf("has %q left over at its end", Shorten(s.rest())), "write it like "+s.example)
}

// one reads a number and a unit, and nothing else.
func one(kind, text, example, usual string, table []unit) (float64, error) {
	s, err := newScan(kind, text, example)
	if err != nil {
		return 0, err
	}
	sign := s.sign()
	v, err := s.number()
	if err != nil {
		return 0, err
	}
	if s.end() {
		return 0, s.bare(usual)
	}
	i, err := s.unit(table)
	if err != nil {
		return 0, err
	}
	return sign * v * table[i].mul / table[i].div, s.done()
}

func (s *scan) bare(usual string) error {
	start := len(s.text) - len(strings.TrimLeftFunc(s.text, unicode.IsSpace))
	return s.fail(start, "has no unit", fmt.Sprintf("write %s %s", strings.TrimSpace(s.text), usual))
}

// shift moves an error found in a part of a text to its place in the whole.
func shift(err error, whole string, by int) error {
	var e *Error
	if !errors.As(err, &e) {
		return err
	}
	moved := *e
	moved.Text, moved.Offset = whole, e.Offset+by
	return &moved
}
