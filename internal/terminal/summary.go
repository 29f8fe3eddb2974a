package terminal

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"thole/internal/answer"
	"thole/internal/model"
)

// explained is how many answers are explained under the list of all.
const explained = 3

// summary writes every answer on a line, then explains the closest ones.
func (p *page) summary(f *model.Folder, table []answer.Question, all []answer.Answer, stamp string) {
	name := f.Boat.Name
	if stamp != "" {
		name += ", folder " + stamp
	}
	p.line(p.look.bold(p.look.say(name)))
	titles := 0
	for _, a := range all {
		titles = max(titles, columns(p.look.say(a.Title)))
	}
	for _, g := range answer.Groups {
		first := true
		for i, q := range table {
			if q.Group != g {
				continue
			}
			if first {
				p.gap()
				p.line(p.look.dim(string(g)))
				first = false
			}
			p.answer(all[i], titles)
		}
	}
	p.scale()
	order := nearest(all)
	left := p.closest(all, order)
	p.cautions(all)
	p.notes(f)
	p.gap()
	if left > 0 {
		p.para(0, fmt.Sprintf("%d more are not a plain yes.", left))
	}
	if len(order) > 0 {
		p.para(0, fmt.Sprintf("The whole of an answer: thole ask %s FOLDER", table[order[0]].ID))
	}
}

// answer writes one answer: on one line where the terminal is wide enough, else
// on several. A wide one has room for what the margin measures, too.
func (p *page) answer(a answer.Answer, titles int) {
	title := p.look.say(a.Title)
	line := "  " + pad(title, titles) + "  " + p.verdict(a)
	if columns(bare.Replace(line)) <= p.look.Width {
		if a.Margin != nil && a.Margin.What != "" && a.Verdict != answer.CannotTell {
			more := line + "  " + p.look.say(a.Margin.What)
			if columns(bare.Replace(more)) <= p.look.Width {
				line = more
			}
		}
		p.line(line)
		return
	}
	p.hang(2, "", title)
	p.verdicts(4, a)
}

// verdicts writes the verdict, the margin under it where both do not fit a line.
func (p *page) verdicts(indent int, a answer.Answer) {
	in := strings.Repeat(" ", indent)
	if s := in + p.verdict(a); columns(bare.Replace(s)) <= p.look.Width || a.Margin == nil {
		p.line(s)
		return
	}
	shown := a.Margin.Shown
	a.Margin = &answer.Margin{Value: a.Margin.Value, Asked: a.Margin.Asked, Spread: a.Margin.Spread}
	p.line(in + p.verdict(a))
	p.para(indent, shown)
}

// verdict is the margin mark, the word and the margin.
func (p *page) verdict(a answer.Answer) string {
	s := p.look.mark(a) + "  " + p.look.bold(pad(string(a.Verdict), len(answer.CannotTell)))
	if a.Margin != nil && a.Verdict != answer.CannotTell {
		s += "  " + p.look.say(a.Margin.Shown)
	}
	return s
}

// scale says how to read the marks.
func (p *page) scale() {
	p.gap()
	p.para(0, "On each scale the upright stroke is the limit, the dot the margin, the bar how far it may be out. "+
		"Right of the stroke it holds, across it is close, left of it is short; a hollow dot cannot be told.")
}

// closest explains the answers that hold least, in short, and returns how many
// that are not a plain yes it left out.
func (p *page) closest(all []answer.Answer, order []int) int {
	n := 0
	for _, i := range order {
		if n > 0 && (n == explained || all[i].Verdict == answer.Yes) {
			break
		}
		p.brief(all[i])
		n++
	}
	left := 0
	for _, i := range order[n:] {
		if all[i].Verdict != answer.Yes {
			left++
		}
	}
	return left
}

// nearest orders answers by how little they hold: what does not hold first, then
// what cannot be told, then what is close, then the rest by how sure they are.
func nearest(all []answer.Answer) []int {
	rank := map[answer.Verdict]int{answer.No: 0, answer.CannotTell: 1, answer.Close: 2, answer.Yes: 3}
	order := make([]int, len(all))
	for i := range order {
		order[i] = i
	}
	share := func(m *answer.Margin) float64 {
		if m == nil {
			return math.Inf(1)
		}
		return m.Value / math.Max(m.Asked, 1e-9)
	}
	sort.SliceStable(order, func(i, j int) bool {
		a, b := all[order[i]], all[order[j]]
		if rank[a.Verdict] != rank[b.Verdict] {
			return rank[a.Verdict] < rank[b.Verdict]
		}
		if a.Margin != nil && b.Margin != nil && a.Margin.Confidence != b.Margin.Confidence {
			return a.Margin.Confidence < b.Margin.Confidence
		}
		return share(a.Margin) < share(b.Margin)
	})
	return order
}

// brief explains one answer in a few lines.
func (p *page) brief(a answer.Answer) {
	p.heading(a.Title)
	p.para(0, a.Sentence)
	if a.Worst != nil {
		p.para(0, tightest(a))
	}
	for _, s := range missing(a) {
		p.hang(0, "Missing: ", s)
	}
	var helps []string
	for _, o := range a.Offers {
		helps = append(helps, o.Name)
	}
	p.few("Would mend it: ", helps, 2)
	var taken []string
	for _, s := range a.Assumptions {
		taken = append(taken, strings.TrimSpace(s.What+" "+s.Value))
	}
	p.few("Taken for granted: ", taken, 4)
	p.few("Not looked at: ", a.NotLookedAt, len(a.NotLookedAt))
}

// cautions writes the cautions of all answers, each once; one that is not every
// answer's says whose it is.
func (p *page) cautions(all []answer.Answer) {
	var order []string
	whose := map[string][]string{}
	for _, a := range all {
		for _, c := range a.Cautions {
			if whose[c] == nil {
				order = append(order, c)
			}
			whose[c] = append(whose[c], a.Title)
		}
	}
	var out []string
	for _, c := range order {
		if n := len(whose[c]); n < len(all) {
			c += " (" + strings.Join(whose[c], " ") + ")"
		}
		out = append(out, c)
	}
	p.list("Cautions", out)
}

// few writes the first items of a list in one paragraph and counts the rest.
func (p *page) few(lead string, items []string, most int) {
	if len(items) == 0 {
		return
	}
	s := ""
	for i, it := range items {
		if i == most {
			s += fmt.Sprintf("; and %d more", len(items)-most)
			break
		}
		if i > 0 {
			s += "; "
		}
		s += it
	}
	p.hang(0, lead, s+".")
}

// tightest says when and how an answer holds least.
func tightest(a answer.Answer) string {
	s := fmt.Sprintf("Tightest on day %d", a.Worst.Day)
	if a.Worst.Condition != "" {
		s += ", " + a.Worst.Condition
	}
	return s + "."
}

// assumed lists what was taken for granted.
func assumed(a answer.Answer) []string {
	var out []string
	for _, s := range a.Assumptions {
		t := s.What
		if s.Value != "" {
			t += " " + s.Value
		}
		if s.Why != "" {
			t += ", " + s.Why
		}
		if s.File != "" {
			t += " (" + s.File + ")"
		}
		out = append(out, t)
	}
	return out
}

// missing lists what a question cannot be answered without.
func missing(a answer.Answer) []string {
	var out []string
	for _, n := range a.Needs {
		out = append(out, n.File+": "+n.Key+": "+n.Why)
	}
	return out
}

// notes says what the reader of the folder passed over or took for granted.
func (p *page) notes(f *model.Folder) {
	var out []string
	for _, n := range f.Notes {
		s := fmt.Sprintf("%s:%d: %s", n.Where.File, n.Where.Line, n.What)
		if n.Why != "" {
			s += ", " + n.Why
		}
		out = append(out, s)
	}
	p.list("Noticed while reading the folder", out)
}
