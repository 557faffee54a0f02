package app

import (
	"slices"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/fake"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

type stage struct {
	app.Compo
	ctx app.Context
}

func (s *stage) OnPreRender(ctx app.Context) { s.ctx = ctx }
func (s *stage) Render() app.UI              { return app.Div() }

func TestStaleWorkIsDropped(t *testing.T) {
	engine := app.NewTestEngine()
	st := &stage{}
	if err := engine.Load(st); err != nil {
		t.Fatal(err)
	}
	engine.ConsumeAll()
	model, err := fake.New()
	if err != nil {
		t.Fatal(err)
	}
	model.Slow = 20 * time.Millisecond
	c := computer{load: func() (Engine, error) { return model, nil }}
	var answers, plans []float64
	ask := func(ambient float64) {
		c.ask(st.ctx, request{
			Case: car.Case{Weather: car.Weather{Ambient: ambient}, Running: car.Running{RPM: 1500, Blower: 1},
				Readings: map[car.Quantity]car.Reading{car.Low: {Value: 2e5}, car.High: {Value: 14e5}}},
			Answered: func(_ app.Context, c car.Case, _ diagnose.Report, _ diagnose.Plane) {
				answers = append(answers, c.Weather.Ambient)
			},
			Planned: func(app.Context, []diagnose.Next) { plans = append(plans, ambient) },
			Failed:  func(_ app.Context, err error) { t.Error(err) },
		})
	}
	for _, ambient := range []float64{300, 301} { // before the model is there
		ask(ambient)
	}
	engine.ConsumeAll()
	if want := []float64{301}; !slices.Equal(answers, want) || !slices.Equal(plans, want) {
		t.Errorf("answers %v and plans %v, want %v: only the newest while the model loads", answers, plans, want)
	}
	answers, plans, model.Planned = nil, nil, 0
	for _, ambient := range []float64{302, 303, 304} {
		ask(ambient)
	}
	if want := []float64{302, 303, 304}; !slices.Equal(answers, want) {
		t.Errorf("answers for %v within the events, want %v", answers, want)
	}
	engine.ConsumeAll()
	if want := []float64{304}; !slices.Equal(plans, want) || model.Planned > 1 {
		t.Errorf("plans for %v, worked out %d times, want the newest once", plans, model.Planned)
	}
	plans = nil
	ask(305)
	c.cancel()
	engine.ConsumeAll()
	if plans != nil {
		t.Error("a cancelled plan came")
	}
}

func TestLeadersLeaveOutHealthyAndTheUnlikely(t *testing.T) {
	got := leaders(diagnose.Report{Ranking: []diagnose.Ranked{
		{ID: car.Healthy, Probability: .5}, {ID: car.Undercharge, Probability: .3},
		{ID: car.NoneOfThese, Probability: .1}, {ID: car.Air, Probability: .09}, {ID: car.Empty, Probability: .01},
	}})
	if len(got) != 2 || got[0] != car.Undercharge || got[1] != car.Air {
		t.Errorf("leaders %v", got)
	}
}

func TestSpokenPercentIsThatOfTheWords(t *testing.T) {
	for p, want := range map[float64]int{0.71: 67, 0.76: 75, 0.3: 33, 0.28: 25, 0.97: 95, 0.5: 50} {
		if got := spokenPercent(p); got != want {
			t.Errorf("%g is said as %d %%, want %d", p, got, want)
		}
	}
}
