package hydraulics

// Coefficient is one line of a table: what it is, the value to use, the range in which
// it is met, and where it comes from.
type Coefficient struct {
	Name      string
	Value     float64
	Low, High float64
	Source    string
}

// Discharge coefficients: the flow through an opening as a share of area times the
// speed that the head gives.
const (
	Sharp     = 0.61 // a hole with a sharp edge, as in a thin skin
	ShortTube = 0.82 // a tube two or three bores long, running full
	Rounded   = 0.97 // a mouth rounded to a bore's quarter or more
	Reentrant = 0.51 // a tube that stands up into the water
)

const (
	textbook = "textbook value, from memory (Streeter & Wylie, Fluid Mechanics, ch. on flow measurement); check your own copy"
	custom   = "common practice, no source"
	lossPage = "table of minor loss coefficients, lmnoeng.com (surface)"
	lossMem  = "from memory (Crane, Flow of Fluids, TP 410; White, Fluid Mechanics); check your own copy"
)

// Discharges is the table of discharge coefficients.
//
// Source: textbook values, each marked; "Cd about 0.6" for a plain hole is also the
// figure in common use
func Discharges() []Coefficient {
	return []Coefficient{
		{"sharp-edged hole", Sharp, 0.59, 0.65, textbook},
		{"short tube, running full", ShortTube, 0.78, 0.83, textbook},
		{"rounded mouth", Rounded, 0.95, 0.99, textbook},
		{"tube standing into the water", Reentrant, 0.50, 0.52, textbook},
	}
}

// Hindrances is the table of what stands in an opening: multiply the opening's
// discharge coefficient by it.
func Hindrances() []Coefficient {
	return []Coefficient{
		{"light hinged flap, lifted by the flow", 0.8, 0.6, 0.9, custom},
		{"heavy or stiff flap", 0.5, 0.3, 0.7, custom},
		{"grating with two thirds of its face open", 0.6, 0.5, 0.7, custom},
		{"strainer, clean", 0.7, 0.5, 0.8, custom},
	}
}

// Losses is the table of what fittings cost: the head lost, in speed heads of the bore.
func Losses() []Coefficient {
	return []Coefficient{
		{"sharp-edged entry", 0.5, 0.4, 0.5, lossMem},
		{"entry standing into the water", 0.8, 0.5, 1.0, lossMem},
		{"rounded entry", 0.05, 0.03, 0.1, lossMem},
		{"exit", 1.0, 1.0, 1.0, "closed form: the whole speed head is lost"},
		{"elbow 90 degrees, threaded", 1.5, 0.75, 1.5, lossPage},
		{"elbow 90 degrees, long radius, threaded", 0.7, 0.45, 0.7, lossPage},
		{"elbow 45 degrees, threaded", 0.4, 0.35, 0.4, lossPage},
		{"return bend 180 degrees", 1.5, 1.5, 2.2, lossMem},
		{"tee, straight through, threaded", 0.9, 0.4, 0.9, lossPage},
		{"tee, through the branch, threaded", 2.0, 1.0, 2.0, lossPage},
		{"gate valve, open", 0.15, 0.1, 0.3, lossPage},
		{"ball valve or seacock, open", 0.05, 0.05, 0.1, lossMem},
		{"swing check valve", 2.0, 0.3, 2.5, lossPage},
		{"spring or duckbill check valve", 5.0, 2.0, 10.0, custom},
		{"foot strainer, clean", 1.5, 0.8, 3.0, custom},
		{"hose clip or tail, one bore down", 0.5, 0.2, 1.0, custom},
	}
}

// Roughnesses is the table of the height of roughness of a bore, in metres. A corrugated
// hose is a guess: its ribs stand in the flow, and no roughness describes them well.
func Roughnesses() []Coefficient {
	const table = "table of surface roughness, lmnoeng.com (surface); Moody (1944)"
	return []Coefficient{
		{"smooth plastic, drawn tube, smooth hose", 1.5e-6, 0, 1.5e-6, table},
		{"commercial steel", 4.5e-5, 4.5e-5, 9e-5, table},
		{"galvanised iron", 1.5e-4, 1.5e-4, 2e-4, table},
		{"rubber hose, smooth inside", 1e-5, 6e-6, 7e-5, lossMem},
		{"corrugated hose", 1e-3, 5e-4, 3e-3, custom},
	}
}

// Find is the line of a table by its name, and whether there is one.
func Find(table []Coefficient, name string) (Coefficient, bool) {
	for _, c := range table {
		if c.Name == name {
			return c, true
		}
	}
	return Coefficient{}, false
}
