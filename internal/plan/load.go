package plan

import (
	"fmt"
	"math"

	"thole/internal/afloat"
	"thole/internal/answer"
	"thole/internal/boatfolder"
	"thole/internal/lists"
	"thole/internal/model"
	"thole/internal/units"
)

// storesFile and boatFile are the files that things stand in.
const (
	storesFile = "stores.csv"
	boatFile   = "boat.yaml"
)

// Load is what lies where at the end of a day, and how she floats with it in a condition.
//
// Error: the shape could not be built, or there is no such day or condition
func Load(c *answer.Case, d *boatfolder.Draft, day int, condition string) (Stowed, error) {
	t, err := c.Trip()
	if err != nil {
		return Stowed{}, err
	}
	day, cond, err := answer.Options{Day: day, Condition: condition}.Pick(t)
	if err != nil {
		return Stowed{}, err
	}
	l := &loader{c: c, f: c.Folder, u: c.Folder.Boat.Units, trip: t, values: map[string]boatfolder.Value{}}
	if d != nil && len(l.f.Stores) > 0 {
		for _, v := range d.Values(storesFile) {
			l.values[v.Key] = v
		}
	}
	out := Stowed{Day: day, Things: []Thing{}, Lockers: []Locker{}}
	for i := range l.f.Stores {
		out.Things = append(out.Things, l.store(i, day))
	}
	for i := range l.f.Boat.Weights {
		if w := &l.f.Boat.Weights[i]; w.Where.Compartment >= 0 && !w.Where.None {
			out.Things = append(out.Things, l.weight(i))
		}
	}
	for i := range l.f.Boat.Compartments {
		out.Lockers = append(out.Lockers, l.locker(i))
	}
	l.sum(out.Lockers, out.Things, day)
	for i := range out.Lockers {
		l.say(&out.Lockers[i])
	}
	out.Afloat = l.afloat(day, cond)
	return out, nil
}

// loader reads a folder for a day.
type loader struct {
	c      *answer.Case
	f      *model.Folder
	u      units.System
	trip   *afloat.Trip
	values map[string]boatfolder.Value // of the table of stores, by key
	stocks [][]int                     // what is left of each store by day, as the calendar has it
}

// left is how many of a store are left at the end of a day.
func (l *loader) left(store, day int) int {
	if l.stocks == nil {
		l.stocks = lists.Stocks(l.f)
	}
	return l.stocks[store][min(day, len(l.stocks[store])-1)]
}

// value finds what stands in a column of a row, however its header is written.
func (l *loader) value(row int, column string) boatfolder.Value {
	key := fmt.Sprintf("rows[%d].", row)
	if v, ok := l.values[key+column]; ok {
		return v
	}
	for k, v := range l.values {
		if len(k) > len(key) && k[:len(key)] == key && model.PlainName(k[len(key):]) == column {
			return v
		}
	}
	return boatfolder.Value{}
}

func (l *loader) store(i, day int) Thing {
	s := &l.f.Stores[i]
	left := l.left(i, day)
	where, pin := l.value(i, "where"), l.value(i, "pinned")
	t := Thing{
		ID: fmt.Sprintf("%s:rows[%d]", storesFile, i), Name: s.What, Locker: s.Where.Compartment, Count: max(1, s.Count), Left: left,
		MassLeft: float64(s.Mass.Value) * float64(left), Group: s.Group, Reach: s.Reach.String(), Dry: s.Dry == model.KeepDry, Pinned: s.Pinned,
		File: storesFile, Line: s.Source.Line, Key: where.Key, Was: where.Text, PinKey: pin.Key, PinWas: pin.Text,
		At: [3]float64{s.Where.At.X, s.Where.At.Y, s.Where.At.Z},
	}
	switch {
	case s.Use.Last == 0:
	case s.Use.First == s.Use.Last:
		t.Used = fmt.Sprintf("day %d", s.Use.Last)
	default:
		t.Used = fmt.Sprintf("days %d to %d", s.Use.First, s.Use.Last)
	}
	t.Mass = l.u.Mass(units.Mass(t.MassLeft))
	if one := volumeOf(s); one > 0 {
		t.VolumeLeft = one * float64(left)
		t.Volume = l.u.Volume(units.Volume(t.VolumeLeft))
	}
	return t
}

func (l *loader) weight(i int) Thing {
	w := &l.f.Boat.Weights[i]
	n := max(1, w.Count)
	all := float64(w.Mass.Value) * float64(n)
	return Thing{
		ID: fmt.Sprintf("%s:weights[%d]", boatFile, i), Name: w.What, Locker: w.Where.Compartment, Count: n, Left: n, MassLeft: all,
		Mass: l.u.Mass(units.Mass(all)), Dry: w.Dry == model.KeepDry, Fixed: true,
		File: boatFile, Line: w.Source.Line, Key: fmt.Sprintf("weights[%d]", i),
	}
}

func (l *loader) locker(i int) Locker {
	c := &l.f.Boat.Compartments[i]
	reach, _ := l.f.Boat.ReachOf(i)
	out := Locker{
		Name: c.Name, Short: c.Name, Word: c.Name, Reach: reach.String(), Wet: c.Wet, MassLimit: float64(c.Limit),
		Side:         map[model.Side]string{model.Port: "port", model.Starboard: "starboard", model.Both: "both"}[c.Side],
		UsableVolume: usable(c, l.trip.Ship.Rooms[i].Volume),
	}
	if c.Number > 0 {
		out.Short = fmt.Sprint(c.Number)
		out.Word, out.Name = out.Short, out.Short+" "+c.Name
	}
	if o := l.f.Boat.Hatch(i); o != nil && o.Width > 0 {
		out.Hatch = o.Name + ", " + l.u.Length(o.Width) + " × " + l.u.Length(o.Height)
	}
	return out
}

// sum puts the things into their lockers, with what was used and came to lie in another.
func (l *loader) sum(lockers []Locker, things []Thing, day int) {
	for _, t := range things {
		if t.Locker < 0 || t.Left == 0 {
			continue
		}
		to := &lockers[t.Locker]
		to.MassIn += t.MassLeft
		to.FilledVolume += t.VolumeLeft
		if t.VolumeLeft == 0 && !t.Fixed {
			to.Unknown++
		}
	}
	for i := range l.f.Stores {
		s := &l.f.Stores[i]
		if s.Use.Into == nil || s.Use.Into.None || s.Use.Into.Compartment < 0 {
			continue
		}
		to, gone := &lockers[s.Use.Into.Compartment], float64(max(1, s.Count)-l.left(i, day))
		to.MassIn += gone * float64(s.Mass.Value)
		to.FilledVolume += gone * volumeOf(s)
	}
}

// say puts a locker's figures into words.
func (l *loader) say(k *Locker) {
	volume := func(v float64) string { return l.u.Volume(units.Volume(v)) }
	left := k.UsableVolume - k.FilledVolume
	k.Share = math.Round(1000*k.FilledVolume/k.UsableVolume) / 1000
	k.Over = left < -1e-9
	k.Usable, k.Filled, k.Mass = volume(k.UsableVolume), volume(k.FilledVolume), l.u.Mass(units.Mass(k.MassIn))
	k.Room = volume(left) + " left"
	if k.Over {
		k.Room = volume(-left) + " too much"
	}
	if k.MassLimit > 0 {
		k.Limit = l.u.Mass(units.Mass(k.MassLimit))
		k.TooHeavy = k.MassIn > k.MassLimit
	}
}

// afloat floats her.
func (l *loader) afloat(day, cond int) Afloat {
	if l.c.Weightless() {
		return Afloat{Why: "nothing in the folder says what she weighs"}
	}
	f := l.trip.Float(l.trip.State(day, cond), nil)
	if f.Err != nil {
		return Afloat{Why: f.Err.Error()}
	}
	trim, heel := f.Rest.Trim(), f.Rest.Heel
	a := Afloat{TrimDeg: trim * 180 / math.Pi, HeelDeg: heel * 180 / math.Pi, FreeboardM: f.Freeboard, Freeboard: l.u.Length(units.Length(f.Freeboard))}
	a.Trim = side(a.TrimDeg, "by the stern", "by the bow")
	a.Heel = side(a.HeelDeg, "to starboard", "to port")
	return a
}

// side is an angle in words, with its direction; two places, so that what one thing does can be seen.
func side(deg float64, more, less string) string {
	switch {
	case math.Abs(deg) < 0.005:
		return "level"
	case deg > 0:
		return fmt.Sprintf("%.2f° %s", deg, more)
	}
	return fmt.Sprintf("%.2f° %s", -deg, less)
}
