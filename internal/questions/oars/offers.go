package oars

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"thole/internal/answer"
	"thole/internal/model"
	"thole/internal/rowing"
	"thole/internal/underway"
	"thole/internal/units"
)

// Bounds on what is offered: how many, and how far a part is moved in which steps (5 mm, or a quarter of an inch), metres. Modelling choices.
const (
	mostOffers = 4
	reach      = 0.15
	fineness   = 0.005
	quarter    = 0.00635
	worth      = 0.2 // room gained for each metre moved, below which it is not worth the trouble
)

// parts are what is tried, in the order of the least trouble.
var parts = []rowing.Part{rowing.MoveStretcher, rowing.RaiseGate, rowing.MoveButton, rowing.RaiseHeels, rowing.MoveGate, rowing.LengthenOar, rowing.RaiseSeat, rowing.WidenSpan, rowing.MoveSeat}

// offer makes offers of single changes of the tightest place that give the room asked for, or failing that the most room. Each is made in
// a copy of the folder, which is asked again from the beginning; one that does no good there is not offered.
func (q *ask) offer(ctx context.Context, a *answer.Answer) {
	if a.Verdict == answer.Yes {
		return
	}
	r := q.tight
	level := slices.DeleteFunc(slices.Clone(q.waters), func(w rowing.Water) bool { return w.Heel != 0 })
	type made struct {
		answer.Offer
		by, value float64
	}
	var all []made
	for _, p := range parts {
		if ctx.Err() != nil {
			return
		}
		by := q.least(r, p, level)
		if by == 0 {
			continue
		}
		c := rowing.Change{Part: p, By: by}
		folder, act := q.changed(r.Place, c)
		if m := &folder.Boat.Rowing[r.Place]; m.Seat.Z >= m.Gates.At.Z {
			continue // no gate stands below the seat: the folder could not be read
		}
		now, err := Ask(ctx, answer.NewCaseFrom(folder, q.c), answer.Options{Bare: true})
		if err != nil || now.Margin == nil || now.Margin.Value < a.Margin.Value+0.002 {
			continue
		}
		all = append(all, made{answer.Offer{Name: q.said(r.Place, c), Why: fmt.Sprintf("least room %s instead of %s", now.Margin.Shown, a.Margin.Shown), Acts: []model.Act{act}}, math.Abs(by), now.Margin.Value})
	}
	slices.SortStableFunc(all, func(x, y made) int { // those with the room asked for by how little they move, then the others by their room
		xs, ys := x.value >= q.asked, y.value >= q.asked
		switch {
		case xs && ys:
			return cmp.Compare(x.by, y.by)
		case xs:
			return -1
		case ys:
			return 1
		}
		return cmp.Compare(y.value, x.value)
	})
	for _, m := range all[:min(mostOffers, len(all))] {
		a.Offers = append(a.Offers, m.Offer)
	}
}

// least is the smallest change of a part that gives the tightest rower the room asked for and a little more, or else the one that gives
// most; 0 where none helps.
func (q *ask) least(r *underway.Rower, p rowing.Part, level []rowing.Water) float64 {
	best, at := r.Left, 0.0
	step := fineness
	if q.sys == units.Feet {
		step = quarter
	}
	for k := 1; float64(k)*step <= reach+1e-9; k++ {
		for _, sign := range []float64{1, -1} {
			by := sign * float64(k) * step
			left, _, err := underway.Room(r.Setup.With(rowing.Change{Part: p, By: by}), level)
			if err != nil {
				continue
			}
			if left > best+0.001+worth*(math.Abs(by)-math.Abs(at)) {
				best, at = left, by
			}
		}
		if best >= q.asked+fineness {
			break
		}
	}
	return at
}

// changed is a copy of the folder with one part of a rowing place moved, and the act that writes it.
func (q *ask) changed(place int, c rowing.Change) (*model.Folder, model.Act) {
	f := *q.c.Folder
	f.Boat.Rowing = slices.Clone(f.Boat.Rowing)
	r := &f.Boat.Rowing[place]
	stretcher, gates, oars := *r.Stretcher, *r.Gates, *r.Oars
	r.Stretcher, r.Gates, r.Oars = &stretcher, &gates, &oars
	act := model.Act{Do: model.SetValue, File: "boat.yaml"}
	set := func(key, text string) {
		act.Key, act.Text = fmt.Sprintf("rowing[%d].%s", place, key), text
	}
	// The folder is asked with the measures as they are written, to the millimetre or the sixteenth of an inch.
	length := func(v float64) (string, units.Length) {
		text := q.sys.Length(units.Length(v))
		read, err := units.ParseLength(text)
		if err != nil {
			return text, units.Length(v)
		}
		return text, read
	}
	point := func(at *r3.Vec) string {
		show := make([]string, 3)
		for i, v := range []*float64{&at.X, &at.Y, &at.Z} {
			var read units.Length
			show[i], read = length(*v)
			*v = float64(read)
		}
		return "[" + strings.Join(show, ", ") + "]"
	}
	switch c.Part {
	case rowing.MoveStretcher, rowing.RaiseHeels:
		if c.Part == rowing.MoveStretcher {
			stretcher.At.X += c.By
		} else {
			stretcher.At.Z += c.By
		}
		set("stretcher.at", point(&stretcher.At))
	case rowing.RaiseGate, rowing.MoveGate, rowing.WidenSpan:
		switch c.Part {
		case rowing.RaiseGate:
			gates.At.Z += c.By
		case rowing.MoveGate:
			gates.At.X += c.By
		default:
			gates.At.Y += math.Copysign(c.By, c.By*gates.At.Y)
		}
		set("gates.at", point(&gates.At))
	case rowing.MoveButton:
		text, read := length(float64(oars.Inboard) + c.By)
		oars.Inboard = read
		set("oars.inboard", text)
	case rowing.LengthenOar:
		text, read := length(float64(oars.Length) + c.By)
		oars.Length = read
		set("oars.length", text)
	case rowing.RaiseSeat, rowing.MoveSeat:
		if c.Part == rowing.RaiseSeat {
			r.Seat.Z += c.By
		} else {
			r.Seat.X += c.By
		}
		set("seat", point(&r.Seat))
	}
	return &f, act
}

// ways are what is said of a change, one way and the other.
var ways = map[rowing.Part][2]string{
	rowing.MoveStretcher: {"stretcher %s aft", "stretcher %s forward"}, rowing.RaiseHeels: {"heels %s higher", "heels %s lower"},
	rowing.RaiseGate: {"gates %s higher", "gates %s lower"}, rowing.MoveGate: {"gates %s aft", "gates %s forward"}, rowing.WidenSpan: {"gates %s further out", "gates %s further in"},
	rowing.MoveButton: {"inboard %s longer", "inboard %s shorter"}, rowing.LengthenOar: {"oars %s longer outboard", "oars %s shorter outboard"},
	rowing.RaiseSeat: {"seat %s higher", "seat %s lower"}, rowing.MoveSeat: {"seat %s aft", "seat %s forward"},
}

// said is a change in words, in the folder's units.
func (q *ask) said(place int, c rowing.Change) string {
	i := 0
	if c.By < 0 {
		i = 1
	}
	s := fmt.Sprintf(ways[c.Part][i], q.sys.Length(units.Length(math.Abs(c.By))))
	if len(q.c.Folder.Boat.Rowing) > 1 {
		s = q.c.Folder.Boat.Rowing[place].Name + ": " + s
	}
	return s
}
