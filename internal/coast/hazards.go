package coast

import "thole/internal/earth"

// mile is a nautical mile in m.
const mile = 1852

// memory marks what no source was at hand for.
const memory = "from memory: place to about 2 miles, extent rough; look it up on a chart"

// Hazards are reefs, rocks and shoals that a coastline at 1:10 million leaves out and a
// small boat bound across an ocean could meet: a few that are well known, mostly of the
// Atlantic, each a circle that holds it with the doubt of its place.
//
// That a place is not listed says nothing about it. Source: from memory, every row; the
// places were not taken from a chart.
func Hazards() []earth.Hazard {
	row := func(name string, lat, lon, miles float64, what string) earth.Hazard {
		return earth.Hazard{Name: name, At: earth.Degrees(lat, lon), Radius: miles * mile, What: what, Source: memory}
	}
	return []earth.Hazard{
		row("Atol das Rocas", -3.87, -33.81, 4, "atoll: reef and two low islets"),
		row("Manuel Luis reefs", -0.87, -44.25, 8, "reef awash"),
		row("Abrolhos reefs", -17.97, -38.67, 12, "reefs and islets"),
		row("Horseshoe Reef, Anegada", 18.63, -64.18, 8, "reef"),
		row("Aves", 15.67, -63.62, 3, "low sand islet"),
		row("Silver Bank", 20.53, -69.72, 14, "coral heads awash"),
		row("Navidad Bank", 20.00, -68.85, 8, "shoal that breaks"),
		row("Mouchoir Bank", 20.95, -70.70, 14, "coral heads awash"),
		row("Hogsty Reef", 21.68, -73.82, 5, "atoll: reef awash"),
		row("Cobbler's Reef, Barbados", 13.08, -59.43, 2, "reef off the windward shore"),
		row("Bermuda's outer reef", 32.38, -64.83, 13, "ring of reefs about the islands"),
		row("Formigas", 37.27, -24.78, 4, "rocks and shoal"),
		row("Arguin Bank", 20.00, -16.90, 25, "shoals and breakers"),
		row("Virgin Rocks", 46.43, -50.82, 6, "shoal that breaks in a gale"),
		row("Nantucket Shoals", 41.05, -69.75, 18, "shoals and breakers"),
		row("Seven Stones", 50.05, -6.12, 3, "rocks awash"),
		row("Bishop Rock", 49.87, -6.45, 3, "rocks"),
		row("Wolf Rock", 49.95, -5.81, 2, "rock"),
		row("Rockall", 57.60, -13.69, 4, "rock, and a reef near it"),
		row("Saint Peter and Saint Paul Rocks", 0.92, -29.34, 3, "rocks"),
	}
}
