package stowing

// Kind is a wish or a rule.
type Kind int

// The wishes, then the rules.
const (
	TrimByBow   Kind = iota // the x moment below its bound
	TrimByStern             // the x moment above its bound
	HeelToPort
	HeelToStarboard
	TooHigh  // the z moment above its bound
	TooMuch  // more than the wished share of an item in one place
	TooFar   // harder to reach than wished
	NoRoom   // rule: a place's volume
	TooHeavy // rule: a place's mass
	TooLarge // rule: an item does not go through the opening
	GetsWet  // rule: an item that must be dry, in a wet place
	Together // rule: two groups that must lie apart
	IsBanned // rule: a place banned for the item
	Unpinned // rule: fewer units than pinned
	Ashore   // rule: not every unit is aboard
	TooFew   // rule: fewer units than are to be kept in some places
)

// IsRule tells whether a breach of this kind makes a plan unusable.
func (k Kind) IsRule() bool { return k >= NoRoom }

// Breach is one wish or rule that a plan does not keep. Numbers that do not apply are -1.
type Breach struct {
	Kind  Kind
	Item  int     // which item
	Other int     // Together: an item of the other group; TooFew: which of the Keeps
	Place int     // which place
	Day   int     // trim, heel, height: the worst state
	Days  int     // trim, heel, height: on how many states
	By    float64 // how much: kg m; m³ (NoRoom); kg (TooHeavy); units (TooMuch, TooLarge, GetsWet, IsBanned, Unpinned, TooFew, Ashore); units and steps (TooFar); 1 (Together)
}

// wish is a breach without numbers.
func breach(k Kind) Breach { return Breach{Kind: k, Item: -1, Other: -1, Place: -1, Day: -1} }
