package explore

import (
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/pagetest"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/practice"
	"twoneedles/refrig/unit"
)

// besideOnly draws the two states.
type besideOnly struct {
	app.Compo
	p *view
}

func (b *besideOnly) Render() app.UI { return app.Div().ID("all").Body(b.p.beside()) }

// beside is the page with one setting pinned and another on screen.
func beside(t *testing.T, pinned, now practice.Settings, units unit.Units) (*pagetest.Screen, *view) {
	t.Helper()
	var v *view
	s := pagetest.New(t, job.Memory{}, func(pg *page.Page) func() app.Composer {
		pg.Job.Units = units
		v = View(pg).(*view)
		v.set = now
		var err error
		if v.pin, err = v.stateOf(pinned); err != nil {
			t.Fatal(err)
		}
		is, err := v.stateOf(now)
		if err != nil {
			t.Fatal(err)
		}
		v.state, v.solved = is.Is, true
		return func() app.Composer { return &besideOnly{p: v} }
	})
	s.Page.Job.Units = units
	s.Show(func() app.Composer { return &besideOnly{p: v} })
	return s, v
}

// The two states stand side by side with what was turned, both numbers, their difference
// as a reader finds it, and the model's reason.
func TestPinnedStateBesideTheOther(t *testing.T) {
	base := practice.NewSettings()
	s, v := beside(t, base, base.With(practice.CondAir, 0.4), unit.US())
	now, err := v.stateOf(v.set)
	if err != nil {
		t.Fatal(err)
	}
	s.Has("all", "Air through the condenser")
	s.Has("all", "40 %")
	for _, c := range practice.Compare(v.pin, now) {
		s.Has("all", v.signText(c.Sign, c.From))
		s.Has("all", v.signText(c.Sign, c.To))
		s.Has("all", v.differenceText(c))
		if c.Sign == practice.HighSide {
			was, is := s.Page.Voice().Quantity(c.Was, unit.TempDiff), s.Page.Voice().Quantity(c.Is, unit.TempDiff)
			s.Has("all", "The heat leaves the condenser less easily: it condenses "+is+" above its air, it was "+was+".")
		}
	}
	same, _ := beside(t, base, base, unit.Metric())
	same.Has("all", "Turn a dial")
	same.Has("all", "Hardly moves")
}

// The difference is that of the numbers as they are written, whichever way they were
// rounded, and a mixture has none.
func TestDifferenceIsThatOfTheNumbers(t *testing.T) {
	_, v := beside(t, practice.NewSettings(), practice.NewSettings(), unit.US())
	psi := unit.PSI.ToSI
	for _, c := range []struct {
		sign     practice.Sign
		from, to float64
		want     string
	}{
		{practice.LowSide, psi(31.4), psi(28.6), "−2 psi"}, // 31 and 29
		{practice.HighSide, psi(200.4), psi(249.6), "+50 psi"},
		{practice.LowSide, psi(30.1), psi(30.2), "0 psi"},
		{practice.VentAir, unit.Fahrenheit.ToSI(50), unit.Fahrenheit.ToSI(61), "+11 °F"},
		{practice.Superheated, 5, -2, "–"},
	} {
		if got := v.differenceText(practice.Change{Sign: c.sign, From: c.from, To: c.to}); got != c.want {
			t.Errorf("%s: %q, want %q", c.sign, got, c.want)
		}
	}
}

// Every reason that any two states give has its words without a gap, and no words wait
// for a reason that never comes.
func TestReasonsOfMovesHaveWordsBothWays(t *testing.T) {
	en, v := present.English(), &view{s: page.New(present.English(), nil, job.Memory{})}
	seen := map[string]bool{}
	for _, metering := range []car.Metering{car.ExpansionValve, car.OrificeTube} {
		for _, compressor := range []car.Compressor{car.Fixed, car.Variable, car.Electric} {
			base := practice.NewSettings()
			base.Metering, base.Compressor = metering, compressor
			var states []*practice.State
			for _, d := range practice.Dials {
				for _, share := range []float64{0, 0.3, 0.6, 1} {
					if s, err := v.stateOf(base.With(d.Dial, d.Min+share*(d.Max-d.Min))); err == nil {
						states = append(states, s)
					}
				}
			}
			for _, a := range states {
				for _, b := range states {
					for _, c := range practice.Compare(a, b) {
						key := whyKey(c)
						if key == "" || seen[key] {
							continue
						}
						seen[key] = true
						if text := v.whyText(c); !en.Has(key) || strings.ContainsAny(text, "⟨⟩{}") {
							t.Errorf("%s: %q", key, text)
						}
					}
				}
			}
		}
	}
	for _, key := range en.Keys() {
		if strings.HasPrefix(key, "explore.pin.why.") && !seen[key] {
			t.Errorf("%s: words for a reason that never comes", key)
		}
	}
}

// stateOf solves a setting.
func (p *view) stateOf(set practice.Settings) (*practice.State, error) {
	r, err := p.rig.Solve(set)
	if err != nil {
		return nil, err
	}
	fluid, err := p.rig.Fluid(set)
	if err != nil {
		return nil, err
	}
	return &practice.State{Set: set, Is: r, Fluid: fluid}, nil
}
