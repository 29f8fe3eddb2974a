// Package stowage turns a boat folder into a problem of stowing (internal/stowing), and plans back into rows of the stores.
//
// Places are the compartments, one for one and in their order, those that take in a cabin too. What can be filled of one is its volume
// from the cuts times its packing, less what will be put into it underway (the `into` of what is used up). Items are the rows of the
// stores that lie in a compartment. All else (fixed weights, stores at points, the crew, what was put into a place) is the rest, by
// day.
//
// # Rows that are one item
//
// Rows alike in everything but their number, their place and their days are one item when nobody could tell their pieces apart
// and it makes no difference which is used when: they are kept; or they are used up, and on every evening no more than one piece
// is left more or less than if all of them were one row from their first day to their last. So a kind that a plan has split over
// several places and days is one kind again, whose share in one place can be asked after and which may be planned anew. Rows with
// names of their own stay apart, however alike: the person told them apart. That costs a plan nothing, since the pieces of any one
// row may be laid into several places.
//
// # Days
//
// A plan counts in whole pieces, a state of the boat (model.State) in shares of a row. What the two differ by on a day is put into the rest, at
// the place where the folder has it, so that the moments of the layout as written are those of the boat, to rounding.
package stowage

import (
	"fmt"
	"math"
	"slices"

	"thole/internal/afloat"
	"thole/internal/lists"
	"thole/internal/model"
	"thole/internal/stowing"
)

// UsualPacking is the share of a compartment's volume that is taken to be fillable where the folder does not say.
// Common practice, no source.
const UsualPacking = 0.6

// PackingDoubt is how well a packing is taken as known: the half width of its 19-in-20 range, as a share of it.
// Common practice, no source.
const PackingDoubt = 0.10

// dear is the price of a piece where it is not allowed: of a share, or of a step of reach. No source: judgement, well
// above all that handling costs.
const dear = 20

// Stowage is what is to be stowed aboard and how it lies as written. It does not change once made.
type Stowage struct {
	Trip    *afloat.Trip
	Problem stowing.Problem // without rest and limits: Balanced puts them in
	Places  []Place         // as Problem.Places and Boat.Compartments
	Items   []Item          // as Problem.Items
	Written stowing.Layout
	// Unknown are rows that lie in a compartment and do not say how much room they take, by their places in Folder.Stores.
	Unknown []int
	spans   [][2]int // the days of each block
	stocks  [][]int  // of each row, what is left of it by day, as the calendar has it
	held    []int    // of each of Problem.Keeps: a compartment that floods with what it is about
}

// Place is a compartment as a place to stow in.
type Place struct {
	Compartment *model.Compartment
	Volume      float64 // m³, all of it
	Packing     float64
	Guessed     bool    // the packing is UsualPacking
	Kept        float64 // m³ that are kept free for what is put there underway
	Reach       model.Reach
	ReachGiven  bool
	// Doors are the openings that a thing passes on its way in, the last one first.
	Doors []*model.Opening
	Shut  bool // there is no way in
}

// Item is one kind of thing: rows of the stores that are one.
type Item struct {
	Rows []int // places in Folder.Stores
}

// New makes ready what a folder stows.
//
// Error: words about a figure that makes no sense for stowing
func New(t *afloat.Trip) (*Stowage, error) {
	s := &Stowage{Trip: t, stocks: lists.Stocks(t.Folder)}
	s.places()
	s.items()
	s.Problem.Trip.Days = t.Days
	s.Problem.Weights = stowing.UsualWeights()
	// The folder says what is allowed of shares and reach, so that a plan breaks them only where nothing else is left.
	s.Problem.Weights.Share, s.Problem.Weights.Reach = dear, dear
	if len(s.Places) == 0 || len(s.Items) == 0 {
		return s, nil
	}
	var err error
	if s.spans, err = stowing.Blocks(&s.Problem); err != nil {
		return nil, err
	}
	// The blocks stay those of the whole, whatever of it is looked at.
	if len(s.spans) > 0 {
		s.Problem.Trip.Block = s.spans[0][1]
	}
	s.write()
	for i, where := range s.Written.Where {
		s.Problem.Items[i].Was = map[int]bool{}
		for k, n := range where {
			if n > 0 {
				s.Problem.Items[i].Was[k] = true
			}
		}
	}
	s.keeps()
	return s, nil
}

// places are the compartments.
func (s *Stowage) places() {
	b := &s.Trip.Folder.Boat
	for i := range b.Compartments {
		c := &b.Compartments[i]
		room := &s.Trip.Ship.Rooms[i]
		p := Place{Compartment: c, Volume: room.Volume, Packing: c.Packing}
		if p.Packing == 0 {
			p.Packing, p.Guessed = UsualPacking, true
		}
		p.Reach, p.ReachGiven = b.ReachOf(i)
		p.Doors = doors(b, i, p.Reach)
		p.Shut = len(p.Doors) == 0 && len(b.Openings) > 0 && !p.ReachGiven
		s.Places = append(s.Places, p)
	}
	f := s.Trip.Folder
	for _, st := range f.Stores {
		if into := st.Use.Into; into != nil && into.Compartment >= 0 && into.Compartment != st.Where.Compartment {
			s.Places[into.Compartment].Kept += float64(st.Volume) * float64(pieces(&st))
		}
	}
	for i, p := range s.Places {
		q := stowing.Place{Name: model.RoomName(b, i), Volume: math.Max(0, s.Usable(i)), At: s.Trip.Ship.Rooms[i].Centre,
			Side: stowing.Side(p.Compartment.Side), Wet: p.Compartment.Wet, Reach: reach(p.Reach), MassLimit: float64(p.Compartment.Limit)}
		if len(p.Doors) > 0 {
			q.Opening = size(p.Doors[0])
		}
		s.Problem.Places = append(s.Problem.Places, q)
	}
}

// Usable is how much of a place can be filled on leaving, m³.
func (s *Stowage) Usable(place int) float64 {
	p := &s.Places[place]
	return p.Volume*p.Packing - p.Kept
}

func size(o *model.Opening) [2]float64 { return [2]float64{float64(o.Width), float64(o.Height)} }

// reach is how a place is reached, as the solver counts it.
func reach(r model.Reach) stowing.Reach {
	switch r {
	case model.AtTheSeat:
		return stowing.AtSeat
	case model.FromTheCabin:
		return stowing.FromCabin
	}
	return stowing.InCalm
}

// doors are the openings on the way into a compartment: its own, and before it that of the cabin out of which it is reached.
func doors(b *model.Boat, i int, r model.Reach) []*model.Opening {
	c := &b.Compartments[i]
	var out []*model.Opening
	if o := b.Hatch(i); o != nil {
		out = append(out, o)
	}
	if under := b.Under(i); under != "" && (len(out) == 0 || r == model.FromTheCabin) {
		if o := largest(b, under); o != nil {
			out = append(out, o)
		}
	}
	if c.Cabin != "" && len(out) > 0 && out[0].Into != c.Cabin {
		if o := largest(b, c.Cabin); o != nil {
			out[0] = wider(out[0], o)
		}
	}
	return out
}

// largest is the largest opening into a cabin; nil for none.
func largest(b *model.Boat, cabin string) *model.Opening {
	var best *model.Opening
	for k := range b.Openings {
		if o := &b.Openings[k]; o.Into == cabin {
			best = wider(best, o)
		}
	}
	return best
}

func wider(a, b *model.Opening) *model.Opening {
	if a == nil || float64(b.Width)*float64(b.Height) > float64(a.Width)*float64(a.Height) {
		return b
	}
	return a
}

func pieces(st *model.Store) int { return max(1, st.Count) }

// items are the rows that lie in compartments, alike ones taken together.
func (s *Stowage) items() {
	stores := s.Trip.Folder.Stores
	taken := make([]bool, len(stores))
	for i := range stores {
		if taken[i] || stores[i].Where.None || stores[i].Where.Compartment < 0 {
			continue
		}
		rows := []int{i}
		for k := i + 1; k < len(stores); k++ {
			if !taken[k] && alike(&stores[i], &stores[k]) {
				rows = append(rows, k)
			}
		}
		if !s.asOne(rows) {
			rows = rows[:1]
		}
		for _, r := range rows {
			taken[r] = true
			if stores[r].Volume == 0 {
				s.Unknown = append(s.Unknown, r)
			}
		}
		s.Items = append(s.Items, Item{Rows: rows})
		s.Problem.Items = append(s.Problem.Items, s.item(rows))
	}
	slices.Sort(s.Unknown)
}

// alike tells whether two rows that lie in compartments are of one kind, but for their number, their place and their days.
func alike(a, b *model.Store) bool {
	if b.Where.None || b.Where.Compartment < 0 || (a.Use.Last == 0) != (b.Use.Last == 0) || (a.Use.Into == nil) != (b.Use.Into == nil) ||
		a.Use.Into != nil && *a.Use.Into != *b.Use.Into {
		return false
	}
	return model.PlainName(a.What) == model.PlainName(b.What) && a.Mass == b.Mass && a.Volume == b.Volume && a.Size == b.Size && a.Group == b.Group &&
		a.Dry == b.Dry && a.Most == b.Most && a.Reach == b.Reach && a.Pinned == b.Pinned && a.Expires.Equal(b.Expires) && a.Inspect.Equal(b.Inspect) &&
		slices.Equal(a.Apart, b.Apart) && slices.Equal(a.Provides, b.Provides) && slices.Equal(a.Needs, b.Needs)
}

// whole is the row that rows of one kind would be together.
func whole(stores []model.Store, rows []int) model.Store {
	out := stores[rows[0]]
	out.Count = pieces(&out)
	for _, r := range rows[1:] {
		st := &stores[r]
		out.Count += pieces(st)
		out.Use.First, out.Use.Last = min(out.Use.First, st.Use.First), max(out.Use.Last, st.Use.Last)
	}
	return out
}

// asOne tells whether rows of one kind are used as one row would be, give or take a piece on any evening.
func (s *Stowage) asOne(rows []int) bool {
	stores := s.Trip.Folder.Stores
	if len(rows) == 1 || stores[rows[0]].Use.Last == 0 {
		return true
	}
	all := whole(stores, rows)
	for d := all.Use.First; d <= all.Use.Last; d++ {
		left := 0
		for _, r := range rows {
			left += s.stocks[r][d]
		}
		if off := left - lists.Left(&all, d); off > 1 || off < -1 {
			return false
		}
	}
	return true
}

// item is what the solver knows of rows that are one.
func (s *Stowage) item(rows []int) stowing.Item {
	st := whole(s.Trip.Folder.Stores, rows)
	it := stowing.Item{Name: st.What, Units: st.Count, Mass: float64(st.Mass.Value), Volume: float64(st.Volume), Dry: st.Dry == model.KeepDry,
		Group: model.PlainName(st.Group), MostShare: st.Most, AnyReach: st.Reach == model.ReachUnsaid, First: st.Use.First, Last: st.Use.Last}
	for k, l := range st.Size {
		it.Size[k] = float64(l)
	}
	for _, g := range st.Apart {
		it.Apart = append(it.Apart, model.PlainName(g))
	}
	if !it.AnyReach {
		it.Reach = reach(st.Reach)
	}
	it.Banned = map[int]bool{}
	for k := range s.Places {
		if s.Places[k].Shut || s.barred(&it, k) != nil {
			it.Banned[k] = true
		}
	}
	for _, r := range rows {
		row := &s.Trip.Folder.Stores[r]
		into := row.Use.Into
		// What is put back where it came from takes no new room there; elsewhere it would.
		if row.Pinned || into != nil && into.Compartment == row.Where.Compartment {
			if it.Pins == nil {
				it.Pins = map[int]int{}
			}
			it.Pins[row.Where.Compartment] += pieces(row)
		}
	}
	return it
}

// barred is an opening before the last that an item does not pass on its way into a place; nil for none.
func (s *Stowage) barred(it *stowing.Item, place int) *model.Opening {
	for n, o := range s.Places[place].Doors {
		if n > 0 && !stowing.Passes(it.Size, size(o)) {
			return o
		}
	}
	return nil
}

// write is the layout as the folder has it: each row in its place, and used on its days.
func (s *Stowage) write() {
	stores := s.Trip.Folder.Stores
	for _, item := range s.Items {
		where := make([]int, len(s.Places))
		for _, r := range item.Rows {
			where[stores[r].Where.Compartment] += pieces(&stores[r])
		}
		s.Written.Where = append(s.Written.Where, where)
		s.Written.Take = append(s.Written.Take, s.takes(item.Rows))
	}
}

// takes are the pieces taken out of each place in each block: those of the rows in the order of their days, as many in a block as one row of all would
// use; nil for what is kept.
func (s *Stowage) takes(rows []int) [][]int {
	stores := s.Trip.Folder.Stores
	all := whole(stores, rows)
	if all.Use.Last == 0 {
		return nil
	}
	var order []int // the place of each piece
	for d := all.Use.First; d <= all.Use.Last; d++ {
		for _, r := range rows {
			for range s.stocks[r][d-1] - s.stocks[r][d] {
				order = append(order, stores[r].Where.Compartment)
			}
		}
	}
	out := make([][]int, len(s.spans))
	for b, span := range s.spans {
		out[b] = make([]int, len(s.Places))
		for range lists.Left(&all, span[0]-1) - lists.Left(&all, span[1]) {
			out[b][order[0]]++
			order = order[1:]
		}
	}
	return out
}

// Store is the first row of an item.
func (s *Stowage) Store(item int) *model.Store { return &s.Trip.Folder.Stores[s.Items[item].Rows[0]] }

// Name is an item's name, with the number of its row where another item is called the same.
func (s *Stowage) Name(item int) string {
	name := s.Store(item).What
	for k := range s.Items {
		if k != item && model.PlainName(s.Store(k).What) == model.PlainName(name) {
			return fmt.Sprintf("%s (row %d)", name, s.Store(item).Source.Line)
		}
	}
	return name
}
