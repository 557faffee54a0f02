package app

import (
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/fake"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// slow is a model that takes its time.
type slow struct{ fake.Engine }

func (s *slow) Answer(c diagnose.Case) (diagnose.Report, error) {
	time.Sleep(20 * time.Millisecond)
	return s.Engine.Answer(c)
}

type stage struct {
	app.Compo
	ctx app.Context
}

func (s *stage) OnPreRender(ctx app.Context) { s.ctx = ctx }
func (s *stage) Render() app.UI              { return app.Div() }

func TestStaleAnswersAreDropped(t *testing.T) {
	engine := app.NewTestEngine()
	st := &stage{}
	if err := engine.Load(st); err != nil {
		t.Fatal(err)
	}
	engine.ConsumeAll()
	model := &slow{}
	c := computer{load: func() (Engine, error) { return model, nil }}
	var answers []float64
	for _, ambient := range []float64{300, 301, 302, 303, 304} {
		c.ask(st.ctx, request{
			Case: diagnose.Case{Weather: car.Weather{Ambient: ambient}},
			Answered: func(_ app.Context, c diagnose.Case, _ diagnose.Report, _ diagnose.Plane) {
				answers = append(answers, c.Weather.Ambient)
			},
			Failed: func(_ app.Context, err error) { t.Error(err) },
		})
		time.Sleep(3 * time.Millisecond)
	}
	engine.ConsumeAll()
	if len(answers) != 1 || answers[0] != 304 {
		t.Errorf("answers came for %v, want only the newest, 304", answers)
	}
	if model.Asked > 3 {
		t.Errorf("the model was asked %d times; requests that waited should have been dropped", model.Asked)
	}
	c.ask(st.ctx, request{Case: diagnose.Case{Weather: car.Weather{Ambient: 305}},
		Answered: func(app.Context, diagnose.Case, diagnose.Report, diagnose.Plane) { t.Error("a cancelled answer came") },
		Failed:   func(_ app.Context, err error) { t.Error(err) }})
	c.cancel()
	engine.ConsumeAll()
}

func TestLeadersLeaveOutHealthyAndTheUnlikely(t *testing.T) {
	got := leaders(diagnose.Report{Ranking: []diagnose.Ranked{
		{ID: diagnose.Healthy, Probability: .5}, {ID: diagnose.Undercharge, Probability: .3},
		{ID: diagnose.NoneOfThese, Probability: .1}, {ID: diagnose.Air, Probability: .09}, {ID: diagnose.Empty, Probability: .01},
	}})
	if len(got) != 2 || got[0] != diagnose.Undercharge || got[1] != diagnose.Air {
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
