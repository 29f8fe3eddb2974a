package sustenance

import "math"

// Air is the weather on a rower's skin.
type Air struct {
	Celsius  float64 // of the air
	Humidity float64 // relative, 0 to 1
	Wind     float64 // m/s at the body
	Sun      float64 // W/m2 on the level
	Radiant  float64 // K by which the surroundings are warmer than the air, sun apart
}

// Dress is what a rower wears.
type Dress struct {
	Clo          float64 // insulation, clo; 0.1 to 1
	Sits         bool
	Acclimatised bool    // used to the heat: sweats more and wets more of the skin
	Reach        float64 // share of the sun on the level that heats each square metre of skin
}

// AtTheOars is light cotton and a hat on a rower used to the heat.
//
// Source: 0.4 clo, light summer clothes (ISO 9920 lists, from memory); reach 0.15: a body shows the sun a fifth of
// its skin, absorbs seven tenths, and cloth and wind take some of that away: modelling choice
func AtTheOars() Dress { return Dress{Clo: 0.4, Sits: true, Acclimatised: true, Reach: 0.15} }

// InTheCabin is the same rower out of the sun.
func InTheCabin() Dress { return Dress{Clo: 0.3, Sits: true, Acclimatised: true} }

// latent is the heat taken by a kilogram of sweat that evaporates from skin, J/kg.
//
// Source: 2430 kJ/kg at 30 C (physical tables; ISO 7933 uses 2400 to 2454)
const latent = 2.43e6

// windMost is the highest wind for which the heat balance was made, m/s.
//
// Source: ISO 7933:2004, range of validity
const windMost = 3.0

// Heat is the heat balance of a body and the sweat that it asks for; W for each square metre of skin.
type Heat struct {
	Skin       float64 // temperature of the skin, C
	Breath     float64 // shed by breathing, both dry and wet
	BreathWet  float64 // of it, the wet
	Dry        float64 // shed by air and radiation; negative when they heat
	Sunned     float64 // gained from the sun
	Required   float64 // left for sweat to shed
	Most       float64 // most that can evaporate
	Wetness    float64 // Required / Most
	Sweat      float64 // sweat that this asks for, dripping included
	Limited    bool    // more is asked than a body gives: it heats up
	WindCapped bool    // there is more wind than the balance was made for
}

// Balance is the steady heat balance of a clothed person.
//
// In:     burnt and mechanical power in W; the skin's area in m2
// Error:  ErrInput
// Good to: 6 per cent of the sweat in the worked cases of ISO 7933 after eight hours where the body keeps its
// temperature (TestHeatCases). In a breeze the balance is extrapolated from 3 m/s. A person differs by a quarter
// Source: ISO 7933:2004, Predicted heat strain, its equations in their steady state; the sun added to what must be shed
func Balance(burnt, work, area float64, a Air, d Dress) (Heat, error) {
	err := first(within("the energy burnt", burnt, 30, 2500, "W"), within("the power", work, 0, burnt, "W"), within("the skin's area", area, 0.8, 3.5, "m2"), a.valid(), d.valid())
	if err != nil {
		return Heat{}, err
	}
	return balance(burnt, work, area, a, d), nil
}

// balance is Balance on numbers that were checked.
func balance(burnt, work, area float64, a Air, d Dress) Heat {
	m := burnt / area
	wind := math.Min(a.Wind, windMost)
	vapour := a.Humidity * saturated(a.Celsius)
	var h Heat
	h.WindCapped = a.Wind > windMost

	// The core at balance with the rate of burning, and the skin that goes with it.
	core := 0.0036*m + 36.6
	rectal := (2*core - 1.31) / 1.962
	radiant := a.Celsius + a.Radiant
	clothed := 12.165 + 0.02017*a.Celsius + 0.04361*radiant + 0.19354*vapour - 0.25315*wind + 0.005346*m + 0.51274*rectal
	bare := 7.191 + 0.064*a.Celsius + 0.061*radiant + 0.198*vapour - 0.348*wind + 0.616*rectal
	h.Skin = bare + (clothed-bare)*clamp((d.Clo-0.2)/0.4, 0, 1)

	air, cloth, wet := layers(m, wind, d.Clo)
	expired := 28.56 + 0.115*a.Celsius + 0.641*vapour
	h.BreathWet = math.Max(0, 0.00127*m*(59.34+0.53*a.Celsius-11.63*vapour))
	h.Breath = h.BreathWet + 0.001516*m*(expired-a.Celsius)

	h.Dry = dry(h.Skin, a.Celsius, radiant, wind, air, cloth, d.Sits)
	h.Sunned = d.Reach * a.Sun
	h.Required = math.Max(0, m-work/area-h.Breath-h.Dry+h.Sunned)
	h.Most = math.Max(0, (saturated(h.Skin)-vapour)/wet)
	h.sweat(d.Acclimatised, m)
	return h
}

// sweat finds the rate of sweating that the required evaporation asks for.
//
// Source: ISO 7933: evaporative efficiency 1 - w^2/2 up to a wetness of 1 and (2 - w)^2/2 up to 1.7; most sweat 2.6 g
// an hour for each watt burnt beyond 32 W/m2, between 650 and 1000 g, which is 250 to 400 W/m2 on its standard man of
// 1.8 m2; a quarter more when acclimatised
func (h *Heat) sweat(acclimatised bool, m float64) {
	most := clamp(1.8*(m-32), 250, 400)
	if acclimatised {
		most *= 1.25
	}
	h.Wetness = math.Inf(1)
	if h.Most > 0 {
		h.Wetness = h.Required / h.Most
	}
	asked := math.Inf(1)
	switch w := h.Wetness; {
	case h.Required == 0:
		asked = 0
		h.Wetness = 0
	case w <= 1:
		asked = h.Required / (1 - w*w/2)
	case w < 1.7:
		asked = h.Required / math.Max(0.05, (2-w)*(2-w)/2)
	}
	h.Sweat = math.Min(asked, most)
	h.Limited = asked > most
}

// layers are the thermal resistances of cloth (m2K/W), the area it adds, and the resistance to vapour (m2kPa/W),
// with the wind and the body's own movement.
//
// Source: ISO 7933:2004 and ISO 9920, dynamic insulation; the moisture index of cotton 0.38
func layers(m, wind, clo float64) (area, cloth, wet float64) {
	const still, moisture, lewis = 0.111, 0.38, 16.7
	area = 1 + 0.3*clo
	walk := clamp(0.0052*(m-58), 0, 0.7)
	dressed := math.Min(1, 1.044*math.Exp((0.066*wind-0.398)*wind+(0.094*walk-0.378)*walk))
	naked := math.Min(1, math.Exp((0.047*wind-0.472)*wind+(0.117*walk-0.342)*walk))
	share := dressed
	if clo <= 0.6 {
		share = ((0.6-clo)*naked + clo*dressed) / 0.6
	}
	total := (clo*0.155 + still/area) * share
	cloth = math.Max(1e-4, total-naked*still/area)
	index := math.Min(0.9, moisture*((2.6*share-6.5)*share+4.9))
	return area, cloth, total / index / lewis
}

// dry is the heat that air and surroundings take from a clothed skin, W/m2: the surface of the cloth is found where
// what comes through it is what leaves it.
func dry(skin, air, radiant, wind, area, cloth float64, sits bool) float64 {
	const boltzmann, emissivity = 5.67e-8, 0.97
	shows := 0.77
	if sits {
		shows = 0.70
	}
	convects := 3.5 + 5.2*wind
	if wind > 1 {
		convects = 8.7 * math.Pow(wind, 0.6)
	}
	convects = math.Max(convects, 2.38*math.Pow(math.Abs(skin-air), 0.25))
	surface, out := (skin+air)/2, 0.0
	for range 50 {
		mean := (surface+radiant)/2 + 273.15
		radiates := 4 * boltzmann * emissivity * shows * mean * mean * mean
		next := (area*(convects*air+radiates*radiant) + skin/cloth) / (area*(convects+radiates) + 1/cloth)
		out = area * (convects*(next-air) + radiates*(next-radiant))
		if math.Abs(next-surface) < 1e-6 {
			break
		}
		surface = next
	}
	return out
}

// saturated is the pressure of saturated vapour, kPa.
//
// Source: Tetens, as in ISO 7933 and FAO-56: 0.6105 exp(17.27 t / (t + 237.3))
func saturated(celsius float64) float64 {
	return 0.6105 * math.Exp(17.27*celsius/(celsius+237.3))
}

// SweatByRegression is a second opinion on the sweat of a rower, kg an hour for each square metre of skin.
//
// In:     what must evaporate and the most that can, W/m2
// Good to: 0.1 kg an hour and square metre, standard error; made on clothed soldiers in up to 2.5 m/s of wind: in
// a breeze it tells less than must evaporate to keep a body cool, even nothing, so it is shown and not counted with
// Source: Gonzalez et al., Journal of Applied Physiology 107 (2009) 379-388: 147 + 1.527 Ereq - 0.87 Emax, g
func SweatByRegression(required, most float64) float64 {
	return math.Max(0, 147+1.527*required-0.87*most) / 1000
}

// valid checks the weather.
func (a Air) valid() error {
	return first(within("the air's temperature", a.Celsius, -10, 50, "C"), within("the humidity", a.Humidity, 0, 1, ""), within("the wind at the body", a.Wind, 0, 60, "m/s"),
		within("the sun", a.Sun, 0, 1500, "W/m2"), within("the warmth of the surroundings", a.Radiant, -40, 80, "K"))
}

// valid checks what is worn.
func (d Dress) valid() error {
	return first(within("the clothing", d.Clo, 0.1, 2, "clo"), within("the sun's reach", d.Reach, 0, 1, ""))
}
