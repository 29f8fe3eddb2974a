package levers

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/boatfolder"
	"thole/internal/model"
	"thole/internal/units"
)

// Edits are what a lever's acts write into a folder, one act after the other.
//
// Error: what an act names is not there, or cannot be done with it
func Edits(f *model.Folder, d *boatfolder.Draft, acts []model.Act) ([]boatfolder.Edit, error) {
	var all []boatfolder.Edit
	next := d
	for i := 0; i < len(acts); {
		if len(all) > 0 { // the folder as the acts before leave it
			var faults boatfolder.Faults
			if next, faults = d.With(all...); len(faults) > 0 {
				return nil, faults
			}
			if f, faults = next.Read(); len(faults) > 0 {
				return nil, faults
			}
		}
		p := newPen(f, next)
		n := together(acts[i:])
		var err error
		switch acts[i].Do {
		case model.Put:
			err = p.put(acts[i : i+n])
		case model.Stow:
			err = p.stow(acts[i : i+n])
		default:
			err = p.act(acts[i])
		}
		if err != nil {
			return nil, err
		}
		all = append(all, p.edits...)
		i += n
	}
	if len(all) == 0 {
		return nil, errors.New("it changes nothing: the folder says so already")
	}
	return all, nil
}

// together is how many acts are done at one go: all that put or stow stores one after the other, of which there may be many, else one.
func together(acts []model.Act) int {
	n := 1
	for (acts[0].Do == model.Put || acts[0].Do == model.Stow) && n < len(acts) && acts[n].Do == acts[0].Do {
		n++
	}
	return n
}

// act writes the edits of one act.
func (p *pen) act(a model.Act) error {
	switch a.Do {
	case model.MoveStores:
		_, err := p.move(a)
		return err
	case model.Another:
		return p.another(a)
	case model.Shift:
		return p.shift(a)
	case model.Heavier:
		return p.heavier(a)
	case model.Add:
		p.add(a)
	case model.LeaveOut:
		return p.leaveOut(a)
	case model.Days:
		return p.days(a)
	case model.Leave:
		return p.leave(a)
	case model.MoreHours:
		return p.hours(a)
	case model.Open, model.Shut:
		return p.openings(a)
	case model.Raise:
		return p.raise(a)
	case model.Fuller:
		return p.fuller(a)
	case model.Food:
		return p.food(a)
	case model.MoreBallast:
		return p.ballast(a)
	case model.SetValue:
		p.set(a.File, a.Key, "", a.Text)
	}
	return nil
}

func (p *pen) shift(a model.Act) error {
	things, err := p.things(a.What)
	if err != nil {
		return err
	}
	for _, t := range things {
		file, key, name := p.where(t)
		if t.Person >= 0 {
			p.shiftPerson(t.Person, a.By)
			continue
		}
		place, point := p.f.Place(t)
		if !point {
			return fmt.Errorf("%s is stowed in %s, not at a point", name, p.f.Boat.Compartments[place.Compartment].Name)
		}
		to := r3.Add(place.At, a.By)
		if t.Weight >= 0 {
			p.point(file, key+".at", name, xyz(place.At), xyz(to))
			continue
		}
		v, _ := p.value(file, key+".where")
		p.set(file, key+".where", name, p.placeText(v.Text, place.At, to))
	}
	return nil
}

func xyz(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

// shiftPerson moves all places of a person that are points.
func (p *pen) shiftPerson(person int, by r3.Vec) {
	for _, place := range p.f.Voyage.Crew[person].Places {
		if place.Where.Compartment >= 0 || place.Where.None {
			continue
		}
		key := fmt.Sprintf("crew[%d].places.%s", person, place.Name)
		p.point(voyageFile, key, p.f.Voyage.Crew[person].Name, xyz(place.Where.At), xyz(r3.Add(place.Where.At, by)))
	}
}

// placeText writes a table's place x; y; z anew, each part as it stood.
func (p *pen) placeText(text string, was, to r3.Vec) string {
	parts := strings.Split(text, ";")
	if len(parts) != 3 {
		return text
	}
	from, at := xyz(was), xyz(to)
	for k, part := range parts {
		if from[k] == at[k] {
			continue
		}
		like := strings.TrimSpace(part)
		for _, other := range parts {
			if strings.Trim(like, "+-−0., ") == "" {
				like = strings.TrimSpace(other)
			}
		}
		blank := part[:len(part)-len(strings.TrimLeft(part, " "))]
		parts[k] = blank + units.LengthLike(like, units.Length(at[k]), goodPlace, p.f.Boat.Units)
	}
	return strings.Join(parts, ";")
}

func (p *pen) heavier(a model.Act) error {
	things, err := p.things(a.What)
	if err != nil {
		return err
	}
	var all units.Mass
	for _, t := range things {
		one, count := p.f.Mass(t)
		all += one * units.Mass(count)
	}
	times := 1 + float64(a.Change.Of(all)/all)
	if times <= 0 {
		return fmt.Errorf("that is all of %s", p.f.Boat.Units.Mass(all))
	}
	for _, t := range things {
		one, count := p.f.Mass(t)
		p.mass(t, one*units.Mass(times), count)
	}
	return nil
}

func (p *pen) add(a model.Act) {
	if n := len(p.f.Boat.Weights); n > 0 {
		p.insert(boatFile, fmt.Sprintf("weights[%d]", n), a.Item)
		return
	}
	p.set(boatFile, "weights", "", "["+a.Item+"]")
}

func (p *pen) leaveOut(a model.Act) error {
	things, err := p.things(a.What)
	if err != nil {
		return err
	}
	// From the last to the first, so that no index changes under an edit that is still to be made.
	slices.SortFunc(things, func(a, b model.Thing) int { return (b.Weight + b.Store) - (a.Weight + a.Store) })
	for _, t := range slices.Compact(things) {
		file, key, name := p.where(t)
		if t.Person >= 0 {
			return fmt.Errorf("%s is one of the crew", name)
		}
		p.remove(file, key, name)
	}
	return nil
}

var digits = regexp.MustCompile(`[0-9]+`)

func (p *pen) days(a model.Act) error {
	v, ok := p.value(voyageFile, "days")
	if !ok || p.f.Voyage == nil || p.f.Voyage.Days+a.Days < 1 {
		return errors.New("voyage.yaml does not say how many days, or not enough of them")
	}
	p.set(voyageFile, "days", "", digits.ReplaceAllString(v.Text, strconv.Itoa(p.f.Voyage.Days+a.Days)))
	return nil
}

func (p *pen) leave(a model.Act) error {
	if p.f.Voyage == nil || p.f.Voyage.Leave.IsZero() {
		return errors.New("voyage.yaml does not say when she leaves")
	}
	p.set(voyageFile, "leave", "", later(p.f.Voyage.Leave, a.Months, a.Days).Format(time.DateOnly))
	return nil
}

// later adds months and days; the 31st becomes the last day of a shorter month.
func later(t time.Time, months, days int) time.Time {
	first := time.Date(t.Year(), t.Month(), 1, 0, 0, 0, 0, time.UTC).AddDate(0, months, 0)
	last := first.AddDate(0, 1, -1).Day()
	return first.AddDate(0, 0, min(t.Day(), last)-1).AddDate(0, 0, days)
}

func (p *pen) openings(a model.Act) error {
	word := map[model.Doing]string{model.Open: "no", model.Shut: "yes"}[a.Do]
	for _, name := range a.What {
		found := false
		for i, o := range p.f.Boat.Openings {
			if model.PlainName(o.Name) != model.PlainName(name) {
				continue
			}
			found = true
			if o.Closed == (a.Do == model.Shut) {
				continue
			}
			p.set(boatFile, fmt.Sprintf("openings[%d].closed", i), o.Name, word)
		}
		if !found {
			return fmt.Errorf("no opening is called %q", name)
		}
	}
	return nil
}

func (p *pen) ballast(a model.Act) error {
	var ballast []model.Thing
	var all units.Mass
	for i, w := range p.f.Boat.Weights {
		if w.Ballast {
			ballast = append(ballast, model.Thing{Weight: i, Store: -1, Person: -1})
			all += w.Mass.Value * units.Mass(max(1, w.Count))
		}
	}
	if all == 0 {
		return errors.New("nothing is marked ballast")
	}
	times := 1 + float64(a.Change.Of(all)/all)
	if times < -1e-9 {
		return fmt.Errorf("that is more than the %s there are", p.f.Boat.Units.Mass(all))
	}
	slices.Reverse(ballast)
	for _, t := range ballast {
		if times < 1e-9 {
			file, key, name := p.where(t)
			p.remove(file, key, name)
			continue
		}
		p.amount(t, times)
	}
	return nil
}
