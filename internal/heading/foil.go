package heading

import (
	"cmp"
	"math"
)

// Foil is a rudder, board or skeg that the hull's profile leaves out.
type Foil struct {
	Name string
	Area float64 // m2, one side, of what is under water
	X    float64 // m aft of station 0, of its quarter chord
	Span float64 // m of depth below the hull or the water
	// Mirrored says that it stands against the hull, which doubles its aspect ratio; a blade
	// that goes through the water's surface, or hangs clear of the hull, is not.
	Mirrored bool
	Taper    float64 // chord at the tip over chord at the root; 0 is taken as 1
	Square   bool    // the tip is cut square, not rounded
	MaxAngle float64 // how far it turns either way, radians; 0 for what stands fixed
	Behind   bool    // it stands in the hull's wake: a rudder, a skeg aft
	Up       bool    // it is out of the water
}

// Marks of the foils' formulas.
const (
	profileDrag = 0.0065 // NACA 0015, Whicker and Fehlner, DTMB report 933 (1958); from memory
	efficiency  = 0.9    // of the induced drag, the same report; from memory
	stallSpan   = 10 * math.Pi / 180
)

// check refuses foils that mean nothing.
func (f Foil) check() error {
	if f.Up && f.Area == 0 {
		return nil
	}
	return cmp.Or(
		need("the area of "+f.Name, f.Area, 1e-6, 1e3, "give more than 0 m2; say that it is up to leave it out"),
		need("the place of "+f.Name, f.X, -1e3, 1e3, "give metres aft of station 0"),
		need("the span of "+f.Name, f.Span, 1e-3, 100, "give more than 0 m"),
		need("the taper of "+f.Name, f.Taper, 0, 10, "give tip chord over root chord, about 1"),
		need("the greatest angle of "+f.Name, f.MaxAngle, 0, math.Pi/2, "give 0 (fixed) to 90 degrees"))
}

// AspectRatio is span squared over area, doubled where the hull mirrors it.
func (f Foil) AspectRatio() float64 {
	a := f.Span * f.Span / f.Area
	if f.Mirrored {
		return 2 * a
	}
	return a
}

// Slope is the lift slope at no angle, per radian, of an unswept foil.
//
// In:     effective aspect ratio
// Source: Whicker and Fehlner, DTMB report 933 (1958), as in Lewis (ed.), Principles of
// Naval Architecture (1989), vol. III, ch. IX; from memory
func Slope(aspect float64) float64 {
	return 1.8 * math.Pi * aspect / (1.8 + math.Sqrt(aspect*aspect+4))
}

// JonesSlope is the lift slope of a wing of very small aspect ratio, per radian.
//
// Source: Jones, NACA report 835 (1946): pi aspect / 2
func JonesSlope(aspect float64) float64 { return math.Pi / 2 * aspect }

// TipDrag is the coefficient of the cross-flow drag round the tip.
//
// Source: Whicker and Fehlner: 0.1 + 0.7 taper with a rounded tip (0.1 + 1.6 taper, square)
func TipDrag(taper float64, square bool) float64 {
	if square {
		return 0.1 + 1.6*taper
	}
	return 0.1 + 0.7*taper
}

// Stall is the angle at which a foil stalls, radians: about 30 degrees at an aspect ratio of
// 1, 22 at 2 and 18 at 4 or more.
//
// Source: modelling choice, after the trend of Whicker and Fehlner's curves for NACA 0015 (from memory)
func Stall(aspect float64) float64 {
	return clamp(14+16/aspect, 16, 36) * math.Pi / 180
}

// blade is a foil made ready.
type blade struct {
	area, arm             float64 // area times half the water's density; metres ahead of the middle
	slope, tip            float64
	aspect, stall         float64
	plate                 float64
	straighten, wake, max float64
	behind                bool
}

func (f Foil) ready(ref, density float64, c *Coefficients) blade {
	taper := f.Taper
	if taper == 0 {
		taper = 1
	}
	a := f.AspectRatio()
	return blade{
		area: density / 2 * f.Area, arm: ref - f.X,
		slope: c.FoilSlope * Slope(a), tip: TipDrag(taper, f.Square) / a,
		aspect: a, stall: c.Stall * Stall(a), plate: c.Plate,
		straighten: c.Straighten, wake: c.Wake, max: f.MaxAngle, behind: f.Behind,
	}
}

// coefficients are lift and drag at an angle of 0 to a quarter turn.
func (b *blade) coefficients(alpha float64) (lift, drag float64) {
	w := clamp((alpha-b.stall)/stallSpan, 0, 1)
	if w < 1 {
		lift = b.slope*alpha + b.tip*alpha*alpha
		// Without any suction on the leading edge the force is square to the blade: more drag than
		// that the lift does not bring, which the formula for very short blades forgets.
		drag = profileDrag + math.Min(lift*lift/(efficiency*math.Pi*b.aspect), lift*math.Tan(alpha))
	}
	if w > 0 {
		// A flat plate: Hoerner's normal force, 1 / (0.44 + 0.56 / sin) of that square on (from memory).
		s, c := math.Sincos(alpha)
		n := b.plate / (0.44 + 0.56/s)
		w = w * w * (3 - 2*w)
		lift = (1-w)*lift + w*n*c
		drag = (1-w)*drag + w*(n*s+profileDrag)
	}
	return lift, drag
}

// force is the water's force and moment on a foil turned by an angle, its trailing edge to
// starboard positive (which turns a boat going ahead to starboard).
func (b *blade) force(u, v, angle float64) (x, y, n float64) {
	if b.behind {
		// The hull straightens the flow of a small drift and slows it; in a broadside drift it
		// does neither.
		if s := u*u + v*v; s > 0 {
			side := v * v / s
			v *= b.straighten + (1-b.straighten)*side
		}
		if u > 0 {
			u *= 1 - b.wake
		}
	}
	s, c := 0.0, 1.0
	if angle != 0 {
		s, c = math.Sincos(angle)
	}
	along, across := u*c-v*s, u*s+v*c
	speed2 := along*along + across*across
	if speed2 == 0 {
		return 0, 0, 0
	}
	lift, drag := b.coefficients(math.Atan2(math.Abs(across), math.Abs(along)))
	speed := math.Sqrt(speed2)
	// The lift is square to the stream and against the side that meets it.
	lx, ly := -v, u
	if (lx*s+ly*c)*across > 0 {
		lx, ly = -lx, -ly
	}
	q := b.area * speed
	x = q * (lift*lx - drag*u)
	y = q * (lift*ly - drag*v)
	return x, y, y * b.arm
}
