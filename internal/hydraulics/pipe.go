package hydraulics

import (
	"cmp"
	"errors"
	"fmt"
	"math"
)

// Kinematic viscosities in m2/s. Source: ITTC 7.5-02-01-03, from memory, rounded.
const (
	FreshWater20 = 1.004e-6
	SeaWater15   = 1.19e-6
)

// Regime is how water runs in a bore.
type Regime string

// The three ways it runs. Between the two sure ones the flow is neither, and the figure
// is a straight line between their ends: good to a quarter, no better.
const (
	Laminar    Regime = "laminar"
	Transition Regime = "transition"
	Turbulent  Regime = "turbulent"
)

// The Reynolds numbers between which the flow is unsure.
const (
	laminarTo     = 2300
	turbulentFrom = 4000
)

// Friction is Darcy's friction factor.
//
// In:     Reynolds number; roughness as a share of the bore, 0 to 0.05
// Out:    factor; how it runs
// Error:  ErrInput
// Good to: 1e-12 of Colebrook's root; the law itself to some 5 %
// Source: Hagen-Poiseuille 64/Re; Colebrook (1939) 1/sqrt f = -2 lg(r/3.7 + 2.51/(Re sqrt f)),
// by Newton's method on 1/sqrt f
func Friction(reynolds, rough float64) (float64, Regime, error) {
	if err := positive("the Reynolds number", reynolds, ""); err != nil {
		return 0, "", err
	}
	if !(rough >= 0 && rough <= 0.05) {
		return 0, "", fmt.Errorf("%w: a roughness of %g of the bore; give 0 to 0.05 (the law's range)", ErrInput, rough)
	}
	f, regime := friction(reynolds, rough)
	return f, regime, nil
}

func friction(reynolds, rough float64) (float64, Regime) {
	switch {
	case reynolds <= laminarTo:
		return 64 / reynolds, Laminar
	case reynolds >= turbulentFrom:
		return colebrook(reynolds, rough), Turbulent
	}
	low, high := 64.0/laminarTo, colebrook(turbulentFrom, rough)
	return low + (high-low)*(reynolds-laminarTo)/(turbulentFrom-laminarTo), Transition
}

// colebrook solves x + 2 lg(r/3.7 + 2.51 x/Re) = 0 for x = 1/sqrt f. The left side rises
// and bends down, so Newton's steps come in from one side and cannot miss.
func colebrook(reynolds, rough float64) float64 {
	a, b := rough/3.7, 2.51/reynolds
	x := -1.8 * math.Log10(math.Pow(a, 1.11)+6.9/reynolds) // Haaland's start, within 2 %
	for range 20 {
		miss := x + 2*math.Log10(a+b*x)
		step := miss / (1 + 2/math.Ln10*b/(a+b*x))
		x -= step
		if math.Abs(step) < 1e-14*x {
			break
		}
	}
	return 1 / (x * x)
}

// Hose is a pipe or hose with its fittings.
type Hose struct {
	Bore      float64 // m
	Length    float64 // m
	Roughness float64 // m, height of the roughness (Roughnesses)
	Losses    float64 // sum of the fittings' loss coefficients, entry and exit counted (Losses)
	Viscosity float64 // kinematic, m2/s
}

// Check says what is wrong with a hose, or nil.
func (h Hose) Check() error {
	err := cmp.Or(positive("the bore", h.Bore, "m"), notNegative("the length", h.Length, "m"),
		notNegative("the roughness", h.Roughness, "m"), notNegative("the sum of losses", h.Losses, ""),
		positive("the viscosity", h.Viscosity, "m2/s (1.19e-6 for the sea)"))
	if err == nil && h.Roughness > 0.05*h.Bore {
		err = fmt.Errorf("%w: a roughness of %g m in a bore of %g m; the law holds to 0.05 of the bore", ErrInput, h.Roughness, h.Bore)
	}
	if err == nil && h.Length == 0 && h.Losses == 0 {
		err = fmt.Errorf("%w: neither length nor losses; an exit alone costs 1", ErrInput)
	}
	if err != nil {
		return fmt.Errorf("hose: %w", err)
	}
	return nil
}

// Loss is what a flow costs in a hose.
type Loss struct {
	Head     float64 // m, friction and fittings
	Friction float64 // m, the straight bore's
	Fittings float64 // m
	Speed    float64 // m/s
	Reynolds float64
	Factor   float64 // Darcy's
	Regime   Regime
}

// Loss is the head that a flow costs.
//
// In:     m3/s, 0 or more
// Error:  ErrInput
// Source: Darcy-Weisbach h = (f L/D + sum K) v2/2g, f from Friction
func (h Hose) Loss(flow float64) (Loss, error) {
	if err := cmp.Or(h.Check(), notNegative("the flow", flow, "m3/s")); err != nil {
		return Loss{}, err
	}
	return h.loss(flow), nil
}

func (h Hose) loss(flow float64) Loss {
	if flow <= 0 {
		return Loss{Regime: Laminar}
	}
	l := Loss{Speed: flow / (math.Pi / 4 * h.Bore * h.Bore)}
	l.Reynolds = l.Speed * h.Bore / h.Viscosity
	l.Factor, l.Regime = friction(l.Reynolds, h.Roughness/h.Bore)
	head := l.Speed * l.Speed / (2 * G)
	l.Friction = l.Factor * h.Length / h.Bore * head
	l.Fittings = h.Losses * head
	l.Head = l.Friction + l.Fittings
	return l
}

// Flow is what a head drives through a hose.
//
// In:     m, 0 or more
// Out:    m3/s; Good to 1e-12
// Error:  ErrInput
// Source: Loss turned round by halving; the loss rises with the flow
func (h Hose) Flow(head float64) (float64, error) {
	if err := cmp.Or(h.Check(), notNegative("the head", head, "m")); err != nil {
		return 0, err
	}
	if head == 0 {
		return 0, nil
	}
	hi := 1e-6
	for h.loss(hi).Head < head {
		hi *= 2
	}
	return halve(0, hi, func(q float64) bool { return h.loss(q).Head < head }), nil
}

// Discharge is the coefficient that makes an Opening of this bore with its tube's whole
// fall pass what the hose passes at a head.
//
// In:     m, above 0
// Error:  ErrInput
func (h Hose) Discharge(head float64) (float64, error) {
	if err := positive("the head", head, "m"); err != nil {
		return 0, err
	}
	q, err := h.Flow(head)
	if err != nil {
		return 0, err
	}
	return q / orifice(math.Pi/4*h.Bore*h.Bore, head), nil
}

// halve finds where a thing that holds at lo stops holding, before hi.
func halve(lo, hi float64, holds func(float64) bool) float64 {
	for range 200 {
		m := (lo + hi) / 2
		if m == lo || m == hi || hi-lo <= 1e-15*hi {
			break
		}
		if holds(m) {
			lo = m
		} else {
			hi = m
		}
	}
	return (lo + hi) / 2
}

// ErrRange comes with a figure that is worked out, but outside its law's range.
var ErrRange = errors.New("outside the law's range")

// HazenWilliams is the straight bore's loss by the water engineers' rule, to hold beside
// Darcy's.
//
// In:     flow m3/s; bore, length m; C (150 smooth plastic, 140 new steel, 100 old iron)
// Out:    m
// Error:  ErrInput; ErrRange, with the figure, outside a bore of 50 mm to 1.8 m, a speed
// of 0.3 to 3 m/s (the customary range, from memory): bilge hoses lie below it, and there
// it can be a tenth and more off. It knows no viscosity: water near 15 degrees only
// Source: h = 10.67 L Q^1.852 / (C^1.852 d^4.8704), as quoted in smartpluvia.com
func HazenWilliams(flow, bore, length, c float64) (float64, error) {
	if err := cmp.Or(positive("the flow", flow, "m3/s"), positive("the bore", bore, "m"),
		notNegative("the length", length, "m"), positive("the coefficient C", c, "(150 for plastic)")); err != nil {
		return 0, err
	}
	h := 10.67 * length * math.Pow(flow/c, 1.852) / math.Pow(bore, 4.8704)
	if v := flow / (math.Pi / 4 * bore * bore); bore < 0.05 || bore > 1.8 || v < 0.3 || v > 3 {
		return h, fmt.Errorf("%w: bore %.3g m, %.2g m/s; use Hose", ErrRange, bore, v)
	}
	return h, nil
}
