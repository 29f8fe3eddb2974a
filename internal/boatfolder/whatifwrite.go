package boatfolder

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"thole/internal/model"
	"thole/internal/units"
)

// LeverText writes acts as a lever of whatif.yaml, to be put under its levers: the reader takes the same acts from it. A key stands
// once in a lever: acts of one kind stand together, and the kinds in the manual's order, in which they are then done.
func LeverText(name string, acts []model.Act) string {
	var out strings.Builder
	fmt.Fprintf(&out, "  - name: %s\n", Flow(name))
	for _, k := range leverShape.keys[1:] {
		var items []string
		for _, a := range acts {
			if string(a.Do) == k.name {
				items = append(items, actText(a))
			}
		}
		switch len(items) {
		case 0:
		case 1:
			fmt.Fprintf(&out, "    %s: %s\n", k.name, items[0])
		default:
			fmt.Fprintf(&out, "    %s:\n", k.name)
			for _, item := range items {
				fmt.Fprintf(&out, "      - %s\n", item)
			}
		}
	}
	return out.String()
}

// actText is an act as it stands behind its key.
func actText(a model.Act) string {
	var parts []string
	put := func(key, text string) {
		if text != "" {
			parts = append(parts, key+": "+text)
		}
	}
	number := func(key string, n int) {
		if n != 0 {
			put(key, strconv.Itoa(n))
		}
	}
	name := func(key, text string) {
		if text != "" {
			put(key, Flow(text))
		}
	}
	switch a.Do {
	case model.MoveStores:
		put("mass", strings.TrimPrefix(changeText(a.Change), "+"))
		name("from", a.From)
		name("to", a.To)
	case model.Put, model.Another:
		put("what", namesText(a.What))
		name("from", a.From)
		name("to", a.To)
		number("count", a.Count)
	case model.Stow:
		put("what", namesText(a.What))
		put("lots", portionsText(a.Portions))
	case model.Shift:
		put("what", namesText(a.What))
		put("by", fmt.Sprintf("[%s, %s, %s]", inMetres(a.By.X), inMetres(a.By.Y), inMetres(a.By.Z)))
	case model.Heavier:
		put("what", namesText(a.What))
		put("by", changeText(a.Change))
	case model.Add:
		return a.Item
	case model.LeaveOut, model.Open, model.Shut:
		return namesText(a.What)
	case model.Days:
		return laterText(a.Days, 0)
	case model.Leave:
		return laterText(a.Days, a.Months)
	case model.MoreHours:
		return timeText(a.Time)
	case model.Raise:
		name(a.Part, a.Name)
		put("by", inMetres(a.By.Z))
	case model.Fuller:
		put("from", inMetres(a.Start))
		put("to", inMetres(a.End))
		put("by", changeText(a.Change))
	case model.Food:
		put("days", laterText(a.Days, 0))
	case model.MoreBallast:
		return changeText(a.Change)
	case model.SetValue:
		return fmt.Sprintf("{%q: %s}", a.File+": "+a.Key, Flow(a.Text))
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

// namesText is a name, or a list of them.
func namesText(names []string) string {
	if len(names) == 1 {
		return Flow(names[0])
	}
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = Flow(n)
	}
	return "[" + strings.Join(out, ", ") + "]"
}

func inMetres(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) + " m" }

func changeText(c model.MassChange) string {
	if c.ByShare {
		return strconv.FormatFloat(math.Round(c.Share*1e12)/1e10, 'f', -1, 64) + " %"
	}
	text := strconv.FormatFloat(float64(c.Mass), 'f', -1, 64) + " kg"
	if c.Mass > 0 {
		text = "+" + text
	}
	return text
}

// timeText is a change of time as it is written: whole minutes at the finest.
func timeText(d units.Duration) string {
	if m := math.Round(float64(d) / 60); math.Mod(m, 60) != 0 {
		return fmt.Sprintf("%+d min", int(m))
	}
	return fmt.Sprintf("%+d h", int(math.Round(float64(d)/3600)))
}

func laterText(days, months int) string {
	n, unit := days, "day"
	if months != 0 {
		n, unit = months, "month"
	}
	if n != 1 && n != -1 {
		unit += "s"
	}
	return fmt.Sprintf("%+d %s", n, unit)
}
