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
	if err := o.Check(); err != nil {
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
	rows := oddsRows(ranking, &o)
	summary := o.Words("chart.odds.summary", "condition", rows[0].name, "odds", rows[0].odds)
	if len(rows) > 1 {
		summary = o.Words.Sentences(summary, o.Words("chart.odds.next", "condition", rows[1].name, "odds", rows[1].odds))
	}
	height := 12.0
	for i, r := range rows {
		height += r.height(i)
	}
	c := svg.New(o.ID, o.Words("chart.odds.title"), summary, oddsWidth, height)
	y := 24.0
	for i, r := range rows {
		r.draw(c, &o, i, y)
		y += r.height(i)
	}
	t := Table{
		Caption: o.Words("chart.odds.title"),
		Head:    []string{o.Words("chart.col.condition"), o.Words("chart.col.odds")},
	}
	for _, r := range rows {
		t.Rows = append(t.Rows, []string{r.name, r.odds})
	}
	return o.Finish(c, summary, t)
}

type oddsRow struct {
	name, odds string
	p          float64
	rest       bool
}

func oddsRows(ranking []diagnose.Ranked, o *Options) []oddsRow {
	ps := make([]float64, len(ranking))
	for i, r := range ranking {
		ps[i] = r.Probability
	}
	var rows []oddsRow
	rest := 0.0
	for i, odds := range o.Chances(ps) {
		if r := ranking[i]; i < shownOdds && (i < 2 || r.Probability >= 0.02) {
			rows = append(rows, oddsRow{name: o.Words.Condition(r.ID), odds: odds, p: r.Probability})
		} else {
			rest += r.Probability
		}
	}
	if rest > 0 {
		rows = append(rows, oddsRow{name: o.Words("chart.odds.rest"), p: math.Min(rest, 1), rest: true})
	}
	return rows
}

const (
	oddsWidth = 360.0
	oddsRoom  = oddsWidth - 8 // for the text of a row
	oddsLine  = 20.0          // of text
)

// text is how the words of a row are set: the first stands out, the rest stands back.
func (r oddsRow) text(i int) svg.Class {
	switch {
	case i == 0:
		return svg.TextBig
	case r.rest:
		return svg.TextSoft
	}
	return svg.Text
}

// height is that of a row. A name that has no room beside its chance has a line to itself:
// cut short it says nothing to who reads it for the first time.
func (r oddsRow) height(i int) float64 {
	class, room := r.text(i), oddsRoom
	if !r.rest {
		room -= svg.TextWidth(class, r.odds) + 12
	}
	if svg.TextWidth(class, r.name) > room {
		return 44 + oddsLine
	}
	return 44
}

func (r oddsRow) draw(c *svg.Canvas, o *Options, i int, y float64) {
	name, bar := r.text(i), svg.Bar
	if i == 0 {
		bar = svg.BarLead
	}
	above := y
	y += r.height(i) - 44
	if !r.rest {
		c.Text(name, svg.Pt{X: c.W - 4, Y: y}, svg.End, r.odds)
	}
	c.Text(name, svg.Pt{X: 4, Y: above}, svg.Start, svg.Fit(name, r.name, oddsRoom))
	track := svg.Rect{X0: 4, Y0: y + 8, X1: c.W - 4, Y1: y + 15}
	c.Box(svg.Track, track, 3.5)
	if w := r.p * (track.X1 - track.X0); w >= 1 {
		track.X1 = track.X0 + w
		c.Box(bar, track, math.Min(3.5, w/2))
	}
}
