package chart

import (
	"errors"
	"math"

	"twoneedles/chart/svg"
	"twoneedles/refrig/diagnose"
)

// shownOdds is how many conditions the picture names; the rest share a row.
const shownOdds = 5

// Odds draws the ranking as quiet bars, most likely first: certainty by order,
// size and words. The probabilities have to lie in 0…1 and are said by
// Options.Chances. The ranking is whole: what is not named shares the last row, whose bar
// is drawn and not said: with it the chances could add up to more than one.
func Odds(ranking []diagnose.Ranked, o Options) (Figure, error) {
	if err := o.check(); err != nil {
		return Figure{}, err
	}
	if len(ranking) == 0 {
		return Figure{}, errors.New("chart: no conditions to rank")
	}
	if o.Chances == nil {
		return Figure{}, errors.New("chart: no words for chances")
	}
	for _, r := range ranking {
		if err := within("probability", "", 0, 1, r.Probability); err != nil {
			return Figure{}, err
		}
	}
	rows := oddsRows(ranking, o)
	summary := o.Words("chart.odds.summary", "condition", rows[0].name, "odds", rows[0].odds)
	if len(rows) > 1 {
		summary = o.sentences(summary, o.Words("chart.odds.next", "condition", rows[1].name, "odds", rows[1].odds))
	}
	c := svg.New(o.ID, o.Words("chart.odds.title"), summary, 360, 12+44*float64(len(rows)))
	for i, r := range rows {
		r.draw(c, o, i)
	}
	t := Table{
		Caption: o.Words("chart.odds.title"),
		Head:    []string{o.Words("chart.col.condition"), o.Words("chart.col.odds")},
	}
	for _, r := range rows {
		t.Rows = append(t.Rows, []string{r.name, r.odds})
	}
	return o.finish(c, summary, t)
}

type oddsRow struct {
	name, odds string
	p          float64
	rest       bool
}

func oddsRows(ranking []diagnose.Ranked, o Options) []oddsRow {
	ps := make([]float64, len(ranking))
	for i, r := range ranking {
		ps[i] = r.Probability
	}
	var rows []oddsRow
	rest := 0.0
	for i, odds := range o.Chances(ps) {
		if r := ranking[i]; i < shownOdds && (i < 2 || r.Probability >= 0.02) {
			rows = append(rows, oddsRow{name: o.Words("chart.condition." + string(r.ID)), odds: odds, p: r.Probability})
		} else {
			rest += r.Probability
		}
	}
	if rest > 0 {
		rows = append(rows, oddsRow{name: o.Words("chart.odds.rest"), p: math.Min(rest, 1), rest: true})
	}
	return rows
}

func (r oddsRow) draw(c *svg.Canvas, o Options, i int) {
	y := 24 + 44*float64(i)
	name, bar := svg.Text, svg.Bar
	if i == 0 {
		name, bar = svg.TextBig, svg.BarLead
	} else if r.rest {
		name = svg.TextSoft
	}
	room := c.W - 8
	if !r.rest {
		c.Text(name, svg.Pt{X: c.W - 4, Y: y}, svg.End, r.odds)
		room -= svg.TextWidth(name, r.odds) + 12
	}
	c.Text(name, svg.Pt{X: 4, Y: y}, svg.Start, svg.Fit(name, r.name, room))
	track := svg.Rect{X0: 4, Y0: y + 8, X1: c.W - 4, Y1: y + 15}
	c.Box(svg.Track, track, 3.5)
	if w := r.p * (track.X1 - track.X0); w >= 1 {
		track.X1 = track.X0 + w
		c.Box(bar, track, math.Min(3.5, w/2))
	}
}
