package sustenance

import "testing"

// heatCase is one of the standard's worked examples: the sweat at the end of eight hours, W/m2.
type heatCase struct {
	name       string
	air        Air
	burnt      float64 // W/m2
	clo        float64
	sits, used bool
	want       float64
	source     string
}

const phs = "ISO 7933:2004 annex, worked examples, as the public library pythermalcomfort's tests print them (water_loss_watt)"

// TestHeatCases: the cases in which the body keeps its temperature, so that a steady balance can stand for eight hours.
// Six per cent: after eight hours the body has stored a little, which warms the skin by up to 0.3 K, and at a wetness
// near one the sweat changes three times as fast as what is asked.
func TestHeatCases(t *testing.T) {
	for _, c := range []heatCase{
		{"40 C, dry", Air{Celsius: 40, Humidity: 0.3385, Wind: 0.3}, 150, 0.5, false, true, 266.1, phs},
		{"30 C among surroundings of 50 C", Air{Celsius: 30, Humidity: 0.7065, Wind: 0.3, Radiant: 20}, 150, 0.5, false, true, 312.5, phs},
		{"35 C in a light air, not used to it", Air{Celsius: 35, Humidity: 0.533, Wind: 1}, 150, 0.5, true, false, 165.7, phs},
		{"43 C, light work", Air{Celsius: 43, Humidity: 0.347, Wind: 0.3}, 103, 0.5, true, true, 293.6, phs},
		{"40 C, more humid, less clothing", Air{Celsius: 40, Humidity: 0.4063, Wind: 0.3}, 150, 0.4, false, true, 290.4, phs},
	} {
		h, err := Balance(c.burnt*1.8, 0, 1.8, c.air, Dress{Clo: c.clo, Sits: c.sits, Acclimatised: c.used})
		if err != nil {
			t.Fatal(c.name, err)
		}
		if d := h.Sweat/c.want - 1; d > 0.06 || d < -0.06 {
			t.Errorf("%s: %.1f W/m2 of sweat, want %.1f within 6 %% (%s); %+v", c.name, h.Sweat, c.want, c.source, h)
		}
	}
}

// TestMostSweat: in air as damp as skin and warmer all is asked for, and a body gives what the standard says is the most.
func TestMostSweat(t *testing.T) {
	steam := Air{Celsius: 40, Humidity: 1}
	for _, c := range []struct {
		burnt  float64 // W/m2
		used   bool
		grams  float64 // an hour
		source string
	}{
		{206, false, 2.6 * (206 - 32) * 1.8, "ISO 7933:2004: 2.6 (M - 32) A g an hour"},
		{120, false, 650, "ISO 7933:2004: no less than 650 g an hour"},
		{400, false, 1000, "ISO 7933:2004: no more than 1000 g an hour"},
		{206, true, 1.25 * 2.6 * (206 - 32) * 1.8, "ISO 7933:2004: a quarter more when acclimatised"},
	} {
		h := must[Heat](t)(Balance(c.burnt*1.8, 0, 1.8, steam, Dress{Clo: 0.5, Acclimatised: c.used}))
		run(t, []check{{"most sweat", h.Sweat * 1.8 / latent * Hour * 1000, c.grams, 0.07 * c.grams, c.source + "; 7 per cent: it prints 400 W/m2 for these 1000 g, which evaporate with 375"}})
		if !h.Limited {
			t.Error("more is asked than is given, and it is not said")
		}
	}
}

// TestBreath: the standard's wet heat of breathing against Fanger's.
func TestBreath(t *testing.T) {
	for _, a := range []Air{{Celsius: 20, Humidity: 0.5}, {Celsius: 28, Humidity: 0.8}, {Celsius: 35, Humidity: 0.3}} {
		h := must[Heat](t)(Balance(360, 0, 1.8, a, AtTheOars()))
		want := 1.72e-5 * 200 * (5867 - 1000*a.Humidity*saturated(a.Celsius))
		run(t, []check{
			{"wet", h.BreathWet, want, 0.12 * want, "Fanger, Thermal Comfort (1970): 1.72e-5 M (5867 - p); 12 per cent, other fits of the same air breathed out"},
			{"dry", h.Breath - h.BreathWet, 0.0014 * 200 * (34 - a.Celsius), 1.6, "Fanger 1970: 0.0014 M (34 - t)"},
		})
	}
}

// TestComfortable: in cool air a working body sweats what comfort asks, and a resting one next to nothing.
func TestComfortable(t *testing.T) {
	const fanger = "Fanger, Thermal Comfort (1970): 0.42 (M - W - 58.15), by hand"
	run(t, []check{
		{"at rest", comfortable(58.15), 0, 1e-12, fanger},
		{"at three times resting", comfortable(174.45), 48.85, 0.01, fanger},
	})
	air := Air{Celsius: 18, Humidity: 0.7, Wind: 4}
	l := must[Losses](t)(man.Losses(400, 70, 10, 110, air, air, AtTheOars(), InTheCabin(), Plenty(), SeaDiet(), 17e6))
	want := 0.42 * (330/man.Skin() - 58.15) * man.Skin() / latent * Hour
	run(t, []check{{"an hour at the oars in a cool breeze", l.Hourly, want, 1e-9, fanger}})
}
