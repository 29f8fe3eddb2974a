package drift

import (
	"cmp"
	"fmt"
	"math"
)

// Kind is a shape of sea anchor or drogue.
type Kind int

// The kinds of device, by the name of their parachute or plate.
const (
	FlatCircular Kind = iota
	Conical
	Hemispherical
	Cross
	Ribbon
	GuideSurface
	Disc // a rigid plate
	Cup  // a rigid half sphere, open to the stream
)

// kinds are the drag coefficients on the constructed area, their least and greatest.
// Sources: Knacke, Parachute Recovery Systems Design Manual (1992), tables 5-1 to 5-4, for
// cloth in air, from memory; Hoerner, Fluid-Dynamic Drag (1965), ch. 3, for plates.
var kinds = [...]struct {
	name      string
	low, high float64
	source    string
}{
	FlatCircular:  {"flat circular parachute", .75, .80, "Knacke, table 5-1"},
	Conical:       {"conical parachute", .75, .90, "Knacke, table 5-1"},
	Hemispherical: {"hemispherical parachute", .62, .77, "Knacke, table 5-1"},
	Cross:         {"cross parachute", .60, .85, "Knacke, table 5-1"},
	Ribbon:        {"ribbon parachute", .45, .55, "Knacke, table 5-2"},
	GuideSurface:  {"guide surface parachute", .28, .42, "Knacke, table 5-2"},
	Disc:          {"rigid disc", 1.17, 1.17, "Hoerner, ch. 3"},
	Cup:           {"rigid cup, open to the stream", 1.42, 1.42, "Hoerner, ch. 3"},
}

// String is the kind's name.
func (k Kind) String() string {
	if k < 0 || int(k) >= len(kinds) {
		return fmt.Sprintf("unknown kind %d", int(k))
	}
	return kinds[k].name
}

// Device is a sea anchor, a drogue, or a row of small ones on one line.
type Device struct {
	Kind     Kind
	Diameter float64 // m, as cut, laid flat
	Count    int     // on the line; 0 is taken as 1
	// Drag is the coefficient on the constructed area where the maker or a pull against a
	// spring balance has told it; 0 takes the table.
	Drag float64
}

// Area is the constructed area of all of it, m2.
func (d Device) Area() float64 {
	return math.Pi / 4 * d.Diameter * d.Diameter * float64(max(1, d.Count))
}

// DragArea is coefficient times area, with the table's ends, m2.
//
// Error:  ErrInput
// Source: Knacke's and Hoerner's coefficients; those of cloth were found in air, and a cloth
// device in the wash of a boat or not quite open makes less
func (d Device) DragArea() (Bounds, error) {
	if err := cmp.Or(need("the diameter of the device", d.Diameter, 0.01, 100, "give more than 0 m"),
		need("the kind of device", float64(d.Kind), 0, float64(len(kinds)-1), "give one of the table"),
		need("the count of devices", float64(d.Count), 0, 1e4, "give how many are on the line"),
		need("the drag coefficient of the device", d.Drag, 0, 5, "give about 0.8, or 0 for the table's")); err != nil {
		return Bounds{}, err
	}
	if d.Drag > 0 {
		a := d.Drag * d.Area()
		return Bounds{Value: a, Low: a, High: a}, nil
	}
	k := kinds[d.Kind]
	return Bounds{Value: (k.low + k.high) / 2 * d.Area(), Low: k.low * d.Area(), High: k.high * d.Area()}, nil
}

// Drag is the pull of a drag area through the water, N: rho CdA v2 / 2.
//
// In:     density kg/m3; drag area m2; speed m/s
func Drag(density, area, speed float64) float64 { return density / 2 * area * speed * speed }

// Jordan's figures. Source: Jordan, Investigation of the use of drogues to improve the safety
// of sailing yachts, USCG report CG-D-20-87 (1987).
const (
	jordanLight, jordanHeavy     = 7500 * Pound, 60000 * Pound // displacements, kg
	jordanFull, jordanLess       = 1.0, 0.6                    // design load over displacement
	jordanSmall, jordanLarge     = 4 * Foot, 5.5 * Foot        // diameter of cone or parachute
	BreakingCrest                = 39 * Foot                   // m/s, the crest of a breaking wave 300 ft long
	seriesCones, seriesConeInch  = 90, 5
	bowAnchorLeast, bowAnchorTop = 2.0, 3.0 // diameter of a bow sea anchor over the drogue's
)

// SeriesDrogue is Jordan's row of ninety 5-inch cones for a boat of 7500 lb.
func SeriesDrogue() Device {
	return Device{Kind: Conical, Diameter: seriesConeInch * Foot / 12, Count: seriesCones}
}

// logarithmic is a figure between two displacements, straight against the logarithm.
func logarithmic(mass, light, heavy float64) float64 {
	return light + (heavy-light)*math.Log(mass/jordanLight)/math.Log(jordanHeavy/jordanLight)
}

// DesignLoad is the pull for which drogue, line and fittings are to be made: the boat struck
// by a breaking crest.
//
// In:     displacement kg
// Out:    N; outside 7500 to 60000 lb the report is silent: below, the share of the displacement is
// held at one, and the high end is the trend run on
// Error:  ErrInput
// Source: Jordan, CG-D-20-87; between his two figures straight against the logarithm (modelling choice)
func DesignLoad(mass float64) (Bounds, error) {
	if err := need("the displacement", mass, 10, 1e6, "give kg"); err != nil {
		return Bounds{}, err
	}
	share := logarithmic(mass, jordanFull, jordanLess)
	w := mass * gravity
	switch {
	case mass < jordanLight:
		return Bounds{w, w, share * w, fmt.Sprintf("the report begins at %.0f kg; she displaces %.0f kg", jordanLight, mass)}, nil
	case mass > jordanHeavy:
		return Bounds{jordanLess * w, math.Max(0, share) * w, jordanLess * w, fmt.Sprintf("the report ends at %.0f kg", jordanHeavy)}, nil
	}
	return Bounds{Value: share * w, Low: share * w, High: share * w}, nil
}

// DrogueDiameter is the diameter of the cone or parachute that the report asks for from the
// stern, and of a sea anchor from the bow: two to three times that.
//
// In:     displacement kg
// Out:    m; below 7500 lb the least of the report is given, and said
// Error:  ErrInput
// Source: Jordan, CG-D-20-87
func DrogueDiameter(mass float64) (stern, bow Bounds, err error) {
	if err := need("the displacement", mass, 10, 1e6, "give kg"); err != nil {
		return Bounds{}, Bounds{}, err
	}
	d := logarithmic(math.Min(math.Max(mass, jordanLight), jordanHeavy), jordanSmall, jordanLarge)
	stern = Bounds{Value: d, Low: d, High: d}
	if mass < jordanLight || mass > jordanHeavy {
		stern.Outside = fmt.Sprintf("the report runs from %.0f to %.0f kg; she displaces %.0f kg", jordanLight, jordanHeavy, mass)
	}
	bow = Bounds{(bowAnchorLeast + bowAnchorTop) / 2 * d, bowAnchorLeast * d, bowAnchorTop * d, stern.Outside}
	return stern, bow, nil
}
