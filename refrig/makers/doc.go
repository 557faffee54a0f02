// Package makers holds the model against makers' published performance tables of
// sound cars (testdata/makers/makers.csv) and fits the fleet to them.
//
// # The method
//
// A cell of a table gives ranges of low side, high side and vent for one weather.
// The maker's typical car is taken to lie at the middle, give or take a quarter of the
// range, the same way in all rows of the table: a maker prints what he accepts. What a
// table leaves out (humidity, engine speed, doors, kind of car) is drawn from what
// testers do ([drawTest]), the same draw for all cells of one table, which gives
// the mean f and the covariance C of what the model would show there.
//
//	y = f(μ) + J b + a + e,   b ~ N(0, Σ),  a ~ N(0, τ_b²),  e ~ N(0, τ_w²),  C added
//
// y are the middles of one table (ln of absolute pressures, vent in K), J the
// derivatives with respect to the fleet's fitted sizes, μ the shift of their medians,
// b how this maker's car differs (Σ: the spreads as judged), a what is peculiar to
// the table, e to the cell. The shifts μ have the judged spread as their prior, so
// that what the tables cannot tell stays as judged; τ_b and τ_w of each quantity are
// found by maximum likelihood, μ by generalised least squares, and J and C are worked
// out anew at the new μ ([Fit]).
//
// The witness leaves one maker out at a time and asks whether the tables left out lie
// where the rest says ([LeaveOneOut]).
//
// # What the tables cannot tell
//
// Nothing about faulty cars, gauges, resting pressures, pipe temperatures or how much
// charge a system takes. Tractors, wheel loaders and truck cabs are in the file and
// in the report but not in the fit: other coils, other cabins.
package makers
