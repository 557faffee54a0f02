package chart

import (
	"slices"

	"twoneedles/chart/svg"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// maxDrifts is how many drift lines a picture holds before they stop being
// told apart (judgement); the table has them all.
const maxDrifts = 4

// Plane draws the pressure plane: healthy cars as nested regions, the reading
// with its error, and for each leading condition that the plane has a drift for
// the way from healthy to severe. A reading that is missing is left out.
func Plane(p diagnose.Plane, r Reading, leaders []car.ConditionID, o Options) (Figure, error) {
	return (&planeView{plane: p, now: r, leaders: leaders, kind: "plane"}).figure(&o)
}

// BeforeAfter draws the plane with the reading before the repair and after it.
func BeforeAfter(p diagnose.Plane, before, after Reading, o Options) (Figure, error) {
	return (&planeView{plane: p, now: after, before: before, kind: "beforeafter"}).figure(&o)
}

// Trail draws the plane with the places {low, high} in Pa gauge the point has
// been at, oldest first, the drifts of the leaders and, where its needles are read, the
// state that was pinned to be held against.
func Trail(p diagnose.Plane, r, pinned Reading, trail [][2]float64, leaders []car.ConditionID, o Options) (Figure, error) {
	return (&planeView{plane: p, now: r, before: pinned, trail: trail, leaders: leaders, kind: "trail"}).figure(&o)
}

// planeView is everything the pressure plane can show.
type planeView struct {
	plane       diagnose.Plane
	now, before Reading
	leaders     []car.ConditionID
	trail       [][2]float64
	kind        string // which title and summary
}

func (v *planeView) figure(o *Options) (Figure, error) {
	if err := o.Check(); err != nil {
		return Figure{}, err
	}
	if err := v.check(); err != nil {
		return Figure{}, err
	}
	if err := o.From.check(); err != nil {
		return Figure{}, err
	}
	drifts := v.drifts()
	summary := v.summary(o, drifts)
	c := svg.New(o.ID, o.Words("chart."+v.kind+".title"), summary, planeW, planeH)
	moved := v.draw(c, o, drifts)
	f, err := o.Finish(c, summary, v.table(o, drifts))
	f.Moved = moved
	return f, err
}

func (v *planeView) check() error {
	if err := v.now.check(); err != nil {
		return err
	}
	if err := v.before.check(); err != nil {
		return err
	}
	for _, r := range v.regions() {
		for _, q := range r.Outline {
			if err := CheckGauges(q[0], q[1]); err != nil {
				return err
			}
		}
	}
	for _, q := range v.trail {
		if err := CheckGauges(q[0], q[1]); err != nil {
			return err
		}
	}
	for _, d := range v.plane.Drifts {
		for _, q := range d.Points {
			if err := CheckGauges(q.Low, q.High); err != nil {
				return err
			}
		}
	}
	return CheckGauges(v.plane.Centre[0], v.plane.Centre[1])
}

// drifts returns the drifts of the leaders in their order.
func (v *planeView) drifts() []diagnose.Drift {
	var out []diagnose.Drift
	for _, id := range v.leaders {
		for _, d := range v.plane.Drifts {
			if d.Condition == id && len(d.Points) > 0 {
				out = append(out, d)
				break
			}
		}
	}
	return out
}

// limits returns what the axes have to hold, in Pa: always the regions, the
// readings and the trail, and of the drifts as much as does not shrink those to
// less than about a third. They end on round numbers, so that the axes stand
// still while a reading moves a little.
func (v *planeView) limits(o *Options, drifts []diagnose.Drift) (low, high svg.Span) {
	low, high = svg.NoSpan(), svg.NoSpan()
	for _, r := range v.regions() {
		if l, h := spans(r); !l.Empty() {
			low.Add(l.Lo, l.Hi)
			high.Add(h.Lo, h.Hi)
		}
	}
	for _, r := range []Reading{v.now, v.before} {
		if n := r.Low; n.Read {
			low.Add(n.Lo-n.Err, n.Hi+n.Err)
		}
		if n := r.High; n.Read {
			high.Add(n.Lo-n.Err, n.Hi+n.Err)
		}
	}
	for _, q := range v.trail {
		low.Add(q[0])
		high.Add(q[1])
	}
	// An empty picture shows what R-134a gauges show in summer (judgement).
	if low.Empty() {
		low = svg.Span{Lo: 0, Hi: 4e5}
	}
	if high.Empty() {
		high = svg.Span{Lo: 0, Hi: 2.4e6}
	}
	low, high = low.Padded(8e4, 0), high.Padded(3e5, 0)
	// A drift may lead into a vacuum even if all readings are above.
	roomLow := svg.Span{Lo: low.Lo - low.Size(), Hi: low.Hi + low.Size()}
	roomHigh := svg.Span{Lo: max(high.Lo-high.Size(), 0), Hi: high.Hi + high.Size()}
	for _, d := range drifts[:min(len(drifts), maxDrifts)] {
		for _, q := range d.Points {
			low.Add(min(max(q.Low, roomLow.Lo), roomLow.Hi))
			high.Add(min(max(q.High, roomHigh.Lo), roomHigh.Hi))
		}
	}
	return low.Padded(0, 0.05).Round(o.Units.Pressure.Size()), high.Padded(0, 0.05).Round(o.Units.Pressure.Size())
}

// summary says the picture in sentences.
func (v *planeView) summary(o *Options, drifts []diagnose.Drift) string {
	low, high, known := v.healthy()
	where := func(r Reading) string {
		key, args := "chart.plane.reading", []any{"low", o.needleText(r.Low), "high", o.needleText(r.High)}
		if known && r.both() {
			key += "." + place(r.Low.mid(), low) + "." + place(r.High.mid(), high)
			if key == "chart.plane.reading.inside.inside" && !holds(v.plane.Regions[0], r) {
				key = "chart.plane.reading.pair"
			}
		}
		return o.Words(key, args...)
	}
	var now, before, healthy, paths string
	switch {
	case v.kind == "beforeafter":
		now, before = o.Words("chart.after", "reading", where(v.now)), o.Words("chart.before", "reading", where(v.before))
	case v.now.Low.Read || v.now.High.Read:
		now = where(v.now)
		if v.before.both() {
			before = o.Words("chart.pinned", "low", o.needleText(v.before.Low), "high", o.needleText(v.before.High))
		}
	default:
		now = o.Words("chart.plane.none")
	}
	if known {
		healthy = o.ranges("chart.plane.healthy", low, high)
	}
	own := v.ownSummary(o)
	if len(drifts) > 0 {
		paths = o.Words("chart.plane.drifts", "list", o.Words.List(conditionNames(o, drifts)))
	}
	trail := ""
	if n := len(v.trail); n > 1 {
		trail = o.Words("chart.trail.path",
			"low_from", o.readText(v.trail[0][0]), "high_from", o.readText(v.trail[0][1]),
			"low_to", o.readText(v.trail[n-1][0]), "high_to", o.readText(v.trail[n-1][1]))
	}
	return o.Words.Sentences(before, now, healthy, own, trail, paths)
}

// ownSummary says where this very car would stand in order, and whether it does.
func (v *planeView) ownSummary(o *Options) string {
	own, ok := v.own()
	if !ok {
		return ""
	}
	key := "chart.plane.own"
	if v.now.both() {
		key += map[bool]string{true: ".inside", false: ".outside"}[holds(own, v.now)]
	}
	low, high := spans(own)
	return o.ranges(key, low, high)
}

func conditionNames(o *Options, drifts []diagnose.Drift) []string {
	names := make([]string, len(drifts))
	for i, d := range drifts {
		names[i] = o.Words.Condition(d.Condition)
	}
	return names
}

// regions are those of the kind of car, and the widest one of this very car.
func (v *planeView) regions() []diagnose.Region {
	if own, ok := v.own(); ok {
		return append(slices.Clone(v.plane.Regions), own)
	}
	return v.plane.Regions
}

// own is the widest region of this very car by its earlier visits, if there is one.
func (v *planeView) own() (r diagnose.Region, ok bool) {
	if len(v.plane.Own) == 0 || len(v.plane.Own[0].Outline) == 0 {
		return r, false
	}
	return v.plane.Own[0], true
}

// spans are the ranges of both needles in a region.
func spans(r diagnose.Region) (low, high svg.Span) {
	low, high = svg.NoSpan(), svg.NoSpan()
	for _, q := range r.Outline {
		low.Add(q[0])
		high.Add(q[1])
	}
	return low, high
}

// healthy returns the range of each needle on healthy cars, or else of the widest region,
// if there is one.
func (v *planeView) healthy() (low, high svg.Span, ok bool) {
	if len(v.plane.Regions) == 0 {
		return svg.NoSpan(), svg.NoSpan(), false
	}
	low, high = spans(v.plane.Regions[0])
	if a, b := v.plane.Low, v.plane.High; a.Lo < a.Hi && b.Lo < b.Hi {
		low, high = svg.Span{Lo: a.Lo, Hi: a.Hi}, svg.Span{Lo: b.Lo, Hi: b.Hi}
	}
	return low, high, !low.Empty()
}

// holds tells whether the middle of the reading lies in the region: a ray from it to the
// right crosses the outline an odd number of times.
func holds(region diagnose.Region, r Reading) bool {
	x, y := r.Low.mid(), r.High.mid()
	in := false
	out := region.Outline
	for i, a := range out {
		b := out[(i+1)%len(out)]
		if (a[1] > y) != (b[1] > y) && x < a[0]+(y-a[1])/(b[1]-a[1])*(b[0]-a[0]) {
			in = !in
		}
	}
	return in
}

func place(v float64, s svg.Span) string {
	switch {
	case v < s.Lo:
		return "below"
	case v > s.Hi:
		return "above"
	}
	return "inside"
}

func (v *planeView) table(o *Options, drifts []diagnose.Drift) Table {
	pressure := o.unitName(unit.GaugePressure)
	t := Table{
		Caption: o.Words("chart." + v.kind + ".title"),
		Head:    []string{o.Words("chart.col.what"), o.Words("chart.col.low", "unit", pressure), o.Words("chart.col.high", "unit", pressure)},
	}
	row := func(what, low, high string) { t.Rows = append(t.Rows, []string{what, low, high}) }
	switch v.kind {
	case "beforeafter":
		row(o.Words("chart.row.before"), o.needleCell(v.before.Low), o.needleCell(v.before.High))
		row(o.Words("chart.row.after"), o.needleCell(v.now.Low), o.needleCell(v.now.High))
	default:
		if v.before.both() {
			row(o.Words("chart.row.pinned"), o.needleCell(v.before.Low), o.needleCell(v.before.High))
		}
		row(o.Words("chart.row.reading"), o.needleCell(v.now.Low), o.needleCell(v.now.High))
	}
	for i, r := range v.plane.Regions {
		low, high := spans(r)
		if i == 0 {
			low, high, _ = v.healthy()
		}
		if low.Empty() {
			continue
		}
		row(o.Words("chart.row.region", "percent", svg.Number(100*r.Level, 0)),
			o.pressureRange(low.Lo, low.Hi), o.pressureRange(high.Lo, high.Hi))
	}
	if own, ok := v.own(); ok {
		low, high := spans(own)
		row(o.Words("chart.row.own", "percent", svg.Number(100*own.Level, 0)),
			o.pressureRange(low.Lo, low.Hi), o.pressureRange(high.Lo, high.Hi))
	}
	for i, name := range conditionNames(o, drifts) {
		for _, q := range drifts[i].Points {
			row(o.Words("chart.row.severity", "condition", name, "percent", svg.Number(100*q.Severity, 0)),
				o.pressureNumber(q.Low), o.pressureNumber(q.High))
		}
	}
	for i, q := range v.trail {
		row(o.Words("chart.row.step", "n", i+1), o.readNumbers(q[0], q[0]), o.readNumbers(q[1], q[1]))
	}
	return t
}
