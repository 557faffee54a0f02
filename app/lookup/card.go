package lookup

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/page"
	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/service"
	"twoneedles/refrig/unit"
)

// card is the table of all three refrigerants on one sheet. On a phone it is folded;
// on paper it is all there is.
func (p *view) card() app.UI {
	w, class := p.s.Words, "card tight pt"
	if p.open {
		class += " open"
	}
	return app.Section().ID("saturation-card").Class(class).Body(
		app.Div().Class("row").Body(
			page.Button("saturation-show", "btn", w.T("saturation.table"), func() { p.open = !p.open }).
				Aria("expanded", page.Pressed(p.open)).Aria("controls", "saturation-table"),
			app.Button().ID("saturation-print").Type("button").Class("btn").Text(w.T("saturation.print")).
				Hidden(!browser.CanPrint()).OnClick(browser.Print),
		),
		app.Div().ID("saturation-table").Class("scroll").TabIndex(0).Role("group").Aria("label", w.T("saturation.caption", "altitude", p.where())).Body(p.sheet()),
	)
}

func (p *view) sheet() app.UI {
	w := p.s.Words
	caption := w.T("saturation.caption", "altitude", p.where())
	head := []app.UI{app.Th().Scope("col").Text(p.s.UnitName(unit.Temperature))}
	var tables []service.Saturation
	for _, id := range car.Refrigerants()[1:] {
		t, err := service.NewSaturation(id, p.altitude)
		if err != nil {
			continue // every refrigerant of a car has a table: TestEveryRefrigerantIsOnTheCard
		}
		tables = append(tables, t)
		head = append(head, app.Th().Scope("col").Class("n").Text(w.T("saturation.column",
			"refrigerant", w.T("readings.choice.refrigerant."+id), "unit", p.s.UnitName(unit.GaugePressure))))
	}
	var rows []app.UI
	for _, T := range p.sheetTemperatures() {
		text, _ := p.s.Voice().Number(T, unit.Temperature)
		cells := []app.UI{app.Th().Scope("row").Text(text)}
		for _, t := range tables {
			cells = append(cells, app.Td().Class("n").Text(p.pressure(t, T)))
		}
		rows = append(rows, app.Tr().Body(cells...))
	}
	return app.Table().Body(app.Caption().Text(caption), app.THead().Body(app.Tr().Body(head...)), app.TBody().Body(rows...))
}

// sheetTemperatures are those of the slider, a row for every 5 °F or 2 °C: as many as a
// sheet of paper holds, K.
func (p *view) sheetTemperatures() []float64 {
	step, first := 2*unit.DiffC.Size(), coldest
	if p.units.Temperature == unit.Fahrenheit {
		step, first = 5*unit.DiffF.Size(), unit.Fahrenheit.ToSI(-20)
	}
	var all []float64
	for T := first; T <= hottest+step/10; T += step {
		all = append(all, T)
	}
	return all
}

// pressure is a cell. A pressure below the atmosphere in inches of mercury brings its
// unit.
func (p *view) pressure(t service.Saturation, T float64) string {
	g, err := t.Gauge(refrig.Temperature(T))
	if err != nil {
		return p.s.Words.T("number.missing")
	}
	num, unitName := p.s.Voice().Number(float64(g), unit.GaugePressure)
	if unitName != p.s.UnitName(unit.GaugePressure) {
		return p.s.Words.T("number.with_unit", "number", num, "unit", unitName)
	}
	return num
}
