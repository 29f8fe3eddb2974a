package boatfolder

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"thole/internal/model"
	"thole/internal/units"
)

// How a change is written in whatif.yaml: so much more or less.
const (
	sharePattern = `^ *[-+−]?[0-9]+([.][0-9]+)? *%$`
	daysPattern  = `^ *([-+−]?) *([0-9]{1,4}) *(days?|weeks?)? *$`
	datePattern  = `^ *([-+−]?) *([0-9]{1,4}) *(days?|weeks?|months?) *$`
)

var (
	shareForm = regexp.MustCompile(sharePattern)
	daysForm  = regexp.MustCompile(daysPattern)
	dateForm  = regexp.MustCompile(datePattern)
)

// massChange reads +10 kg, -5 lb, 10 %, -50%.
func massChange(text string) (model.MassChange, error) {
	if strings.Contains(text, "%") {
		share, err := shareChange(text)
		return model.MassChange{Share: share, ByShare: true}, err
	}
	m, err := units.ParseMass(text)
	if err == nil && m == 0 {
		err = &units.Error{Kind: "mass", Text: text, Say: "changes nothing", Mend: "write +10 kg, or 10 %"}
	}
	return model.MassChange{Mass: m}, err
}

// shareChange reads 5 %, -5%.
func shareChange(text string) (float64, error) {
	wrong := func(say string) error {
		return &units.Error{Kind: "share", Text: text, Say: say, Mend: "write 5 %, or -5 %"}
	}
	if !shareForm.MatchString(text) {
		return 0, wrong("is not a share of what there is")
	}
	v, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(strings.Trim(strings.TrimSpace(text), "%")), "−", "-", 1), 64)
	switch {
	case err != nil || v > 1000:
		return 0, wrong("is out of all bounds")
	case v < -100:
		return 0, wrong("is more than there is")
	case v == 0:
		return 0, wrong("changes nothing")
	}
	return v / 100, nil
}

// later reads +7, -2 weeks, +1 month: days and months.
func later(text string, form *regexp.Regexp, mend string) (days, months int, err error) {
	m := form.FindStringSubmatch(text)
	if m == nil {
		return 0, 0, &units.Error{Kind: "time", Text: text, Say: "is not understood", Mend: mend}
	}
	n, _ := strconv.Atoi(m[2])
	if m[1] == "-" || m[1] == "−" {
		n = -n
	}
	switch {
	case n == 0:
		err = &units.Error{Kind: "time", Text: text, Say: "changes nothing", Mend: mend}
	case strings.HasPrefix(m[3], "week"):
		days = 7 * n
	case strings.HasPrefix(m[3], "month"):
		months = n
	default:
		days = n
	}
	if days < -mostDays || days > mostDays || months < -24 || months > 24 {
		err = &units.Error{Kind: "time", Text: text, Say: "is out of all bounds", Mend: mend}
	}
	return days, months, err
}

func daysLater(text string) (int, error) {
	d, _, err := later(text, daysForm, "write +7, or -7 days")
	return d, err
}

func dateLater(text string) (days, months int, err error) {
	return later(text, dateForm, "write +1 month, +14 days or -2 weeks")
}

// checkChange reads a change of some kind.
func checkChange(text string, k kind) error {
	var err error
	switch k {
	case changeOfMass:
		_, err = massChange(text)
	case changeOfShare:
		_, err = shareChange(text)
	case changeOfDays:
		_, err = daysLater(text)
	case changeOfDate:
		_, _, err = dateLater(text)
	case changeOfTime:
		_, err = timeLater(text)
	}
	return err
}

// weightLine writes a weight as a line of boat.yaml has it, from the keys of an added one.
func weightLine(n *node) string {
	var parts []string
	for _, k := range addedShape.keys {
		v := n.get(k.name)
		switch {
		case v == nil:
		case v.form == list:
			var at []string
			for _, i := range v.items {
				at = append(at, Flow(i.text))
			}
			parts = append(parts, fmt.Sprintf("%s: [%s]", k.name, strings.Join(at, ", ")))
		default:
			parts = append(parts, k.name+": "+Flow(v.text))
		}
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

// Flow writes a text so that yaml reads the same from between braces and brackets.
func Flow(text string) string {
	plain := text != "" && strings.TrimSpace(text) == text && !strings.ContainsAny(text, "{}[],#:\"'\\\n\t") &&
		!strings.ContainsAny(text[:1], "-?&*!|>%@`=~")
	if plain {
		return text
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`, "\t", `\t`).Replace(text) + `"`
}
