// Package earth says where things are: distances and courses on the earth's
// ellipsoid, legs and routes, the current triangle, fast steps for a simulation, the
// land and its nearness, and the map projections.
//
// Model: the earth is an ellipsoid of revolution (WGS 84 unless another is asked for)
// and everything lies on its surface. Shortest lines come from the geodesic library;
// lines of constant course, feet of perpendiculars, steps and projections are ours.
// Land is a set of rings with straight sides in latitude and longitude, given by the
// caller (package coast holds the world's), and hazards are circles.
//
// Latitude is north positive, longitude east positive, both in radians; courses and
// bearings are radians clockwise from true north, 0 to 2 pi; lengths are metres.
// Longitudes are taken at any turn and given from -pi up to, not including, pi.
//
// Nothing here is a chart: a coast at 1:10 million is good to a mile or two, and
// shoals, reefs, tides and lights are not in it.
package earth
