package repair

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode/decoder"
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/pagetest"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/service"
	"twoneedles/refrig/unit"
)

// screen is the place on a page without a browser.
type screen struct {
	*pagetest.Screen
	place *Place
}

func open(t *testing.T, device job.Storage) *screen {
	t.Helper()
	s := &screen{}
	s.Screen = pagetest.New(t, device, func(pg *page.Page) func() app.Composer {
		s.place = New(pg)
		return s.place.Work
	})
	return s
}

// put types a text.
func (s *screen) put(t page.Text, text string) *screen {
	s.Put(t, text)
	return s
}

// work shows every step; customer shows the customer's sheet.
func (s *screen) work() *screen {
	s.Helper()
	s.place.open = map[string]bool{}
	for _, code := range jobSteps {
		s.place.open[code] = true
	}
	s.Show(s.place.Work)
	return s
}

func (s *screen) customer() *screen {
	s.Helper()
	s.Show(s.place.Customer)
	return s
}

// pickup is the invented pickup of the examples, repaired.
func pickup(t *testing.T, device job.Storage) *screen {
	b := open(t, device)
	b.Do(func() { b.Page.Open(b.Page.Example("old_pickup_half_charge")) })
	b.Put(page.TextOf("resting"), "62").Put(page.TextOf(present.LeakMonths), "30")
	b.Put(page.TextOf("recovered"), "400 g").Put(page.TextOf(present.OutTemp), "90")
	b.Do(func() {
		b.place.toggle(&b.Page.Job.Repair.Parts, job.Parts, "condenser")
		b.place.toggle(&b.Page.Job.Repair.LeaksFound, job.Places, "condenser_face")
		b.Page.Job.Repair.Cause = string(car.Undercharge)
		b.Page.Job.Repair.Retest = "tight"
		b.Page.Job.Repair.Hold = []job.HoldPoint{{Time: "0", Pressure: "480"}, {Time: "3", Pressure: "482"}, {Time: "6", Pressure: "479"}, {Time: "10", Pressure: "481"}, {Time: "15", Pressure: "483"}}
		b.Page.Edited()
	})
	b.Put(page.TextOf(present.VacuumReached), "480").Put(page.TextOf(present.MassIn), "2 lb")
	b.Put(page.TextAfter("low"), "38").Put(page.TextAfter("high"), "225").Put(page.TextAfter("vent"), "54")
	return b
}

func TestJobPlaceShowsEveryStep(t *testing.T) {
	b := pickup(t, job.Memory{}).work()
	b.Sound("the whole job")
	for id, want := range map[string]string{
		"resting-hero": "No liquid left",
		// By hand: 400 g of 2 lb (907.2 g) at 32 °C. The machine may be off by 30 g and
		// leave 5 % [SAEJ2788]: 370 g … 430/0.95 = 452.6 g, 41–50 % of the label.
		"recover-hero":    "41–50 %",
		"recover-missing": "1 lb", // 907.2 − 452.6 = 454.6 g, one pound and a bit
		// Lost 454.6 … 537.2 g in 30 months: 181.8 … 214.9 g a year, 6.4–7.6 oz.
		"leak-hero":        "6.4–7.6 oz a year",
		"hold-hero":        "It holds",
		"charge-hero":      "2 lb",
		"charged-checks":   "The label lies within",
		"prove-vent":       "Beside it: 23 published temperatures",
		"repair-note-list": "Cover the fins",
		"oil-hero":         "0.5–1.7 fl oz", // makers print 15–50 ml for a condenser [MakersOil]
		"vacuum-rules":     "Army",
	} {
		b.Has(id, want)
	}
	b.Has("vacuum-checks", "30 inHg vacuum, the end of what it can show") // 480 microns are 29.90 of 29.92 inHg
	if open := b.Text("vacuum-checks"); strings.Contains(open, "Army") || !strings.Contains(open, "on an electronic gauge") {
		t.Errorf("in the open stands more than one rule to go by: %s", open)
	}
}

func TestRecoveredMassWeighsInTheAnswer(t *testing.T) {
	b := pickup(t, job.Memory{})
	got, ok := b.Page.Answer().Of.Readings[car.Recovered]
	if want := 0.4 / (2 * 0.45359237); !ok || math.Abs(got.Value-want) > 1e-9 {
		t.Errorf("the answer was asked with %v, want %g of the label", got, want)
	}
}

// Four cautions at most stand open at a step: those that no step before it has said.
// At the first step that is goggles; at the charge, what only a charge can do.
func TestNewCautionsStandOpen(t *testing.T) {
	b := pickup(t, job.Memory{}).work()
	b.Has("cautions-resting", "Goggles and gloves")
	b.Has("cautions-charge", "high-side valve")
	b.Has("cautions-rest-charge", "Goggles and gloves")
	b.Has("cautions-recover", "Never let refrigerant escape")
	b.Has("cautions-prove", "Goggles and gloves")
	b.Has("cautions-retest", "Never oxygen")
}

// Text that cannot be read stays, is explained beside its field, and costs only
// its own sum.
func TestJobKeepsWhatItCannotRead(t *testing.T) {
	b := pickup(t, job.Memory{})
	b.Put(page.TextOf(present.MassIn), "a lot").Put(page.TextAfter("low"), "about thirty")
	b.work()
	b.Sound("bad input")
	b.Has("mass_in-note", "cannot be read as a number")
	b.Has("after-low-note", "cannot be read as a number")
	b.Has("sum-charged", "Still needed")
	b.Has("charge-hero", "2 lb")
	if b.Page.Typed(page.TextOf(present.MassIn)) != "a lot" {
		t.Error("the text was erased")
	}
}

func TestEmptyJobAsksForWhatItNeeds(t *testing.T) {
	b := open(t, job.Memory{})
	b.Do(func() { b.Page.Open(job.New(b.Page.Job.Created, unit.Metric())) })
	b.work()
	b.Sound("an empty job")
	for id, want := range map[string]string{
		"sum-resting": "the pressure at rest", "sum-recover": "the charge on the label", "sum-leak": "the months",
		"sum-vacuum": "the vacuum reached", "sum-hold": "two points", "sum-charge": "the refrigerant", "sum-prove": "the low side after the repair",
	} {
		b.Has(id, want)
	}
	b.customer().Sound("an empty page for the customer")
	b.Has("tell-found", "Nothing has been measured yet.")
}

func TestTicksOpenTheNextStep(t *testing.T) {
	b := open(t, job.Memory{})
	b.Do(func() { b.Page.Open(b.Page.Example("old_pickup_half_charge")) })
	if !b.place.isOpen("resting") || b.place.isOpen("charge") {
		t.Error("a fresh job does not open at the check at rest")
	}
	if b.work(); b.place.isDone("resting") || strings.Contains(b.HTML(), "done-resting") {
		t.Error("the check at rest is ticked before its pressure is there")
	}
	b.put(page.TextOf("resting"), "62").work()
	if !b.place.isDone("resting") || !b.place.isOpen("resting") || !strings.Contains(b.HTML(), "done-resting") {
		t.Error("the check at rest is not ticked, or nothing folds it")
	}
	if b.Do(func() { b.place.tick("resting") }); b.place.isOpen("resting") || !b.place.isOpen("find") || len(b.Page.Job.Repair.Done) > 0 {
		t.Error("the check at rest does not fold, or the next step is not open")
	}
	b.Do(func() { b.place.tick("recover"); b.place.tick("find") })
	if got := strings.Join(b.Page.Job.Repair.Done, " "); got != "find recover" {
		t.Errorf("done: %s; the order of the work is lost", got)
	}
	if !b.place.isOpen("repair") || b.place.isOpen("find") {
		t.Error("the next step is not open")
	}
	b.Do(func() { b.place.tick("find") })
	if b.place.isDone("find") {
		t.Error("the tick does not come off")
	}
}

// full is a device without room.
type full struct{ job.Memory }

func (full) Set(string, string) error { return job.ErrFull }

// denied is a device that stores nothing.
type denied struct{ job.Memory }

func (denied) Set(string, string) error { return errors.New("no") }

func TestWorkGoesOnWithoutStorage(t *testing.T) {
	for name, device := range map[string]job.Storage{"full": full{job.Memory{}}, "denied": denied{job.Memory{}}} {
		t.Run(name, func(t *testing.T) {
			b := pickup(t, device).work()
			b.Has("unsaved", "not kept on this device")
			b.Has("unsaved-export", "Save as a file")
			b.Has("recover-hero", "41–50 %")
			if all := b.Page.EveryJob(); len(all) == 0 || all[0].Text[present.MassIn] != "2 lb" {
				t.Error("the job on the bench is not in the export")
			}
			b.Sound(name)
		})
	}
}

func TestCodeIsReadByAnotherDecoder(t *testing.T) {
	b := pickup(t, job.Memory{})
	link := "https://shop.example/tools/tell#" + b.Page.Job.Link()
	code, ok := qrCode(link)
	if !ok {
		t.Fatalf("a full job has %d characters: too long for a code", len(link))
	}
	bits, err := gozxing.NewSquareBitMatrix(code.Size)
	if err != nil {
		t.Fatal(err)
	}
	for y := range code.Size {
		for x := range code.Size {
			if code.Black(x, y) {
				bits.Set(x, y)
			}
		}
	}
	result, err := decoder.NewDecoder().Decode(bits, nil)
	if err != nil {
		t.Fatal(err)
	}
	if result.GetText() != link {
		t.Errorf("the code says %q", result.GetText())
	}
	t.Logf("a full job: %d characters, %d modules across", len(link), code.Size)
	if _, ok := qrSVG(strings.Repeat("x", mostQR+1), ""); ok {
		t.Error("a text beyond the limit became a code")
	}
	if _, ok := qrSVG(strings.Repeat("x", mostQR), ""); !ok {
		t.Errorf("%d characters do not fit", mostQR)
	}
}

func TestLongLinkOffersAFile(t *testing.T) {
	b := pickup(t, job.Memory{})
	b.Do(func() {
		text := make([]rune, 3000) // characters of every kind do not pack
		for i := range text {
			text[i] = rune(0x4e00 + (i*7919)%20000)
		}
		b.Page.Job.Repair.Work = string(text)
		b.place.list.link = "shown"
		b.Page.Edited()
	})
	b.work()
	b.Has("qr-too-long", "save the job as a file")
}

// Every code that refrig/service can put on the page has its words.
func TestServiceCodesHaveWords(t *testing.T) {
	w := present.English()
	need := func(key string) {
		t.Helper()
		if !w.Has(key) {
			t.Errorf("no words for %s", key)
		}
	}
	files, err := filepath.Glob("../../refrig/service/*.go")
	if err != nil || len(files) == 0 {
		t.Fatal("the sources of refrig/service are not there: ", err)
	}
	rule := regexp.MustCompile(`\{"([a-z0-9_]+)", [^"]*, (?:Published|CommonPractice|Computed|Judgement), "(\w*)"\}`)
	own := map[string]bool{"psi_as_fahrenheit": true, "tank_test": true, "vent_40_50_at_70": true} // sentences of their own
	steps := map[string]bool{}
	if p, err := service.Retrofit(1); err == nil {
		for _, r := range p.Steps {
			steps[r.Code] = true
			need("job.retrofit_step." + r.Code)
		}
	}
	found := 0
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		src, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range rule.FindAllStringSubmatch(string(src), -1) {
			found++
			if m[2] != "" {
				need("job.ref." + m[2])
			}
			if !own[m[1]] && !steps[m[1]] {
				need("job.rule." + m[1])
			}
		}
	}
	if found < 40 {
		t.Errorf("only %d rules found in the source: the search is broken", found)
	}
	for _, step := range service.Steps() {
		for _, n := range service.GasNotes(step, car.Spec{}) {
			need("job.gas_note." + n.Code)
			if n.Ref != "" {
				need("job.ref." + n.Ref)
			}
		}
	}
	notes := service.RepairNoteCodes()
	for _, code := range notes {
		need("job.repair_note." + code)
	}
	for _, key := range w.Keys() {
		if code, ok := strings.CutPrefix(key, "job.repair_note."); ok && !slices.Contains(notes, code) {
			t.Errorf("words for a note that nothing gives: %s", code)
		}
	}
	for _, m := range service.Methods() {
		need("job.method." + m.Code + ".name")
		need("job.engine." + string(m.Engine))
		for _, n := range m.Needs {
			need("job.method_need." + n.Code)
		}
	}
	for _, p := range service.SearchOrder(car.Spec{Evaporators: 2}) {
		need("place." + p.Code)
		need("tell.place." + p.Code)
	}
	for _, p := range job.Parts {
		need("tell.part." + p)
	}
	for _, f := range []service.RestingFinding{service.RestingEmpty, service.RestingVacuum, service.RestingNoLiquid, service.RestingSaturated, service.RestingAbove, service.RestingUnequal, service.RestingWhich} {
		need("job.rest." + string(f) + ".short")
		need("job.rest." + string(f) + ".says")
	}
	for _, v := range []service.HoldVerdict{service.HoldTight, service.HoldLeak, service.HoldMoisture, service.HoldBoth, service.HoldCannotTell} {
		need("job.hold." + string(v) + ".says")
		if v != service.HoldCannotTell {
			need("tell.did.hold_" + string(v))
		}
	}
}

// The page for the customer is held to the grade of the formula of Flesch and
// Kincaid: 0.39 words per sentence + 11.8 syllables per word − 15.59 [Kincaid1975].
func TestCustomerPageIsPlain(t *testing.T) {
	b := pickup(t, job.Memory{}).customer()
	b.Sound("the page for the customer")
	page := b.Text("sheet")
	for _, term := range []string{"evaporator", "condenser", "superheat", "subcooling", "evacuate", "metering", "psi"} {
		if strings.Contains(strings.ToLower(prose(present.English())), term) {
			t.Errorf("the customer reads %q", term)
		}
	}
	// Before the repair the picture names the conditions: as a driver would.
	before := open(t, job.Memory{})
	before.Three("38", "330", "90")
	before.Page.Answer().Report.Ranking = []diagnose.Ranked{{ID: car.CondenserAirflow, Probability: .6}, {ID: car.ValveOpen, Probability: .3}, {ID: car.Air, Probability: .1}}
	before.Page.Answer().Report.Verdict = diagnose.Named
	odds := before.customer().Text("tell-picture")
	if !strings.Contains(odds, "Too little air at the front") || strings.Contains(odds, "ondenser") || strings.Contains(odds, "orifice") {
		t.Errorf("the customer's picture says %q", odds)
	}
	if grade := readingGrade(prose(present.English())); grade > 8 {
		t.Errorf("the words for the customer are of grade %.1f, want at most 8", grade)
	}
	for _, want := range []string{"too little refrigerant", "cooler behind the grille", "It held", "a new leak can start"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
}

// prose is every sentence of tell.json.
func prose(w *present.Words) string {
	var all []string
	for _, k := range w.Keys() {
		if text := w.Text(k, nil); strings.HasPrefix(k, "tell.") && strings.HasSuffix(text, ".") {
			all = append(all, regexp.MustCompile(`⟨\w+⟩`).ReplaceAllString(text, "it"))
		}
	}
	return strings.Join(all, " ")
}

func readingGrade(text string) float64 {
	words := regexp.MustCompile(`[A-Za-z’]+`).FindAllString(text, -1)
	sentences := float64(len(regexp.MustCompile(`[.?:](\s|$)`).FindAllString(text, -1)))
	syllables := 0
	for _, word := range words {
		n := len(regexp.MustCompile(`[aeiouy]+`).FindAllString(strings.TrimSuffix(strings.ToLower(word), "e"), -1))
		syllables += max(n, 1)
	}
	n := float64(len(words))
	return 0.39*n/sentences + 11.8*float64(syllables)/n - 15.59
}

// Whatever the sums find, the page has words for it, and for the driver too.
func TestEveryFindingHasItsWords(t *testing.T) {
	b := pickup(t, job.Memory{})
	hold := func(pressures ...string) []job.HoldPoint {
		var points []job.HoldPoint
		for i, p := range pressures {
			points = append(points, job.HoldPoint{Time: []string{"0", "2", "4", "6", "8", "10", "12", "15", "20", "25"}[i], Pressure: p})
		}
		return points
	}
	found := map[string]bool{}
	for name, change := range map[string]func(*job.Job){
		"empty": func(j *job.Job) { j.Before.SetReading(car.Resting, job.Reading{Text: "0"}) },
		"air":   func(j *job.Job) { j.Before.SetReading(car.Resting, job.Reading{Text: "170"}) },
		"unequal": func(j *job.Job) {
			j.Before.SetReading(car.Resting, job.Reading{Text: "60"})
			j.SetText(present.RestingHigh, "120")
		},
		"which":     func(j *job.Job) { j.Car.Refrigerant = "" },
		"R-12":      func(j *job.Job) { j.Car.Refrigerant = "R12"; j.SetText(present.R12Charge, "2 lb 8 oz") },
		"two coils": func(j *job.Job) { j.Car.Evaporators = 2; j.Repair.Parts = []string{"rear_unit"} },
		"electric":  func(j *job.Job) { j.Car.Compressor = "electric"; j.Repair.Parts = job.Parts; j.Repair.Opened = true },
		"too much":  func(j *job.Job) { j.Before.SetReading(car.Recovered, job.Reading{Text: "1300 g"}) },
		"cold":      func(j *job.Job) { j.SetText(present.OutTemp, "35"); j.SetText(present.Soak, "35") },
		"cool":      func(j *job.Job) { j.SetText(present.OutTemp, "62") },
		"hoses": func(j *job.Job) {
			j.Repair.Hoses = "liquid"
			j.SetText(present.HoseLength, "6")
			j.SetText(present.HoseBore, "0.2")
		},
		"under":  func(j *job.Job) { j.SetText(present.MassIn, "1 lb 8 oz") },
		"over":   func(j *job.Job) { j.SetText(present.MassIn, "2 lb 8 oz") },
		"needle": func(j *job.Job) { j.SetText(present.VacuumReached, "27 in"); j.SetText(present.PumpTime, "10") },
		"mountain": func(j *job.Job) {
			j.Before.SetText(present.Altitude, "6000")
			j.SetText(present.VacuumReached, "23 in")
		},
		"nitrogen": func(j *job.Job) { j.SetText(present.LeakPressure, "300") },
		"oil": func(j *job.Job) {
			j.SetText(present.OilOut, "2")
			j.SetText(present.OilIn, "0.5")
			j.Repair.SuddenLeak = true
		},
		"leak": func(j *job.Job) { j.Repair.Hold = hold("500", "900", "1302", "1698", "2100", "2502", "2899") },
		"moisture": func(j *job.Job) {
			j.Repair.Hold = hold("500", "4000", "6500", "8200", "9400", "10200", "10800", "11300", "11650", "11750")
		},
		"few points": func(j *job.Job) { j.Repair.Hold = hold("500", "600") },
		"falling":    func(j *job.Job) { j.Repair.Hold = hold("5000", "4500", "4000", "3500", "3000") },
		"jumps":      func(j *job.Job) { j.Repair.Hold = hold("500", "9000", "700", "8000", "600", "9500") },
		"backwards": func(j *job.Job) {
			j.Repair.Hold = []job.HoldPoint{{Time: "5", Pressure: "500"}, {Time: "2", Pressure: "600"}}
		},
		"metric": func(j *job.Job) { *j = j.WithUnits(unit.Metric()) },
	} {
		fresh := b.Page.Job.Clone()
		change(&fresh)
		b.Do(func() {
			fresh.ID = b.Page.Job.ID
			kept := b.Page.Job
			b.Page.Replace(fresh)
			fresh = kept
		})
		b.work().Sound(name)
		found[b.Text("resting-hero")], found[b.Text("hold-hero")], found[b.Text("hold-says")] = true, true, true
		b.customer().Sound(name + ", told")
		b.Do(func() { b.Page.Replace(fresh) })
	}
	for _, want := range []string{"Empty", "Too high for this gas", "The needles differ", "Which gas?", "A leak", "Moisture", "It holds"} {
		if !found[want] {
			t.Errorf("no case led to %q", want)
		}
	}
}

// The fields of the repair know what those of the first visit know: swapped hoses are
// one tap away, and units there and back give back what was typed.
func TestRepairFieldsSwapAndRememberUnits(t *testing.T) {
	b := pickup(t, job.Memory{}).put(page.TextAfter("low"), "210").put(page.TextAfter("high"), "30").work()
	b.Has("after-low-note", "swap")
	b.Do(func() {
		if !b.Page.TakeSuggestion(page.TextAfter("low"), present.SwapSides) {
			t.Error("no swap is offered")
		}
	})
	low, high := b.Page.Typed(page.TextAfter("low")), b.Page.Typed(page.TextAfter("high"))
	if low != "30" || high != "210" {
		t.Errorf("after the repair the sides say %s and %s, want 30 and 210", low, high)
	}
	b.put(page.TextOf(present.OilIn), "2.5")
	b.Do(func() { b.Page.SetUnit(unit.Volume, unit.Millilitre) })
	if got := b.Page.Typed(page.TextOf(present.OilIn)); got != "74" { // 2.5 · 29.574 ml, to what half a tenth of an ounce says
		t.Errorf("in millilitres it is %q", got)
	}
	b.Do(func() { b.Page.SetUnit(unit.Volume, unit.FluidOunce) })
	if got := b.Page.Typed(page.TextOf(present.OilIn)); got != "2.5" {
		t.Errorf("it came back as %q", got)
	}
}

// Which caution stands where, for a car of which nothing is known. In the open is what
// is new at a step, on this page; none is lost: what a step has in refrig/service is
// there, in the open or one tap away.
func TestCautionsStandWhereTheHandIs(t *testing.T) {
	want := map[string][2]string{ // in the open, folded
		"resting": {"goggles_and_gloves high_voltage_keep_off r744_stop mildly_flammable", "identify_first uncoupling frostbite_aid label_and_manual_outrank"},
		"find": {"fans_and_belts hot_parts high_voltage_isolate no_flame_toxic_gas",
			"gas_sinks never_compressed_air never_oxygen regulate_nitrogen uv_eyewear goggles_and_gloves mildly_flammable frostbite_aid label_and_manual_outrank"},
		"recover": {"pump_can_ignite never_vent certified_person eu_certified_person",
			"goggles_and_gloves high_voltage_isolate r744_stop mildly_flammable no_flame_toxic_gas gas_sinks identify_first uncoupling frostbite_aid label_and_manual_outrank"},
		"repair": {"empty_before_opening no_welding_or_steam engine_cool",
			"goggles_and_gloves high_voltage_isolate mildly_flammable no_flame_toxic_gas gas_sinks frostbite_aid label_and_manual_outrank"},
		"retest": {"goggles_and_gloves high_voltage_isolate never_compressed_air never_oxygen", "regulate_nitrogen uncoupling label_and_manual_outrank"},
		"evacuate": {"vacuum_is_no_leak_test no_compressor_in_vacuum",
			"goggles_and_gloves high_voltage_isolate pump_can_ignite uncoupling frostbite_aid label_and_manual_outrank"},
		"charge": {"ventilate_doors_open high_valve_closed_running no_liquid_into_suction never_by_pressure",
			"goggles_and_gloves fans_and_belts hot_parts high_voltage_keep_off mildly_flammable no_flame_toxic_gas gas_sinks certified_person eu_certified_person uncoupling frostbite_aid label_and_manual_outrank"},
		"prove": {"goggles_and_gloves fans_and_belts hot_parts ventilate_doors_open", "high_voltage_keep_off mildly_flammable uncoupling frostbite_aid label_and_manual_outrank"},
	}
	b := open(t, job.Memory{}).work()
	for _, step := range service.Steps()[1:] {
		_, listed := want[string(step)]
		if !listed {
			t.Errorf("what stands at %s is not listed here", step)
		}
		var both []string
		for i, id := range []string{"cautions-", "cautions-rest-"} {
			got := b.cautions(id + string(step))
			if text := strings.Join(got, " "); text != want[string(step)][i] {
				t.Errorf("%s%s: %s", id, step, text)
			}
			both = append(both, got...)
		}
		for _, n := range service.Cautions(step, car.Spec{}) {
			if !slices.Contains(both, n.Code) {
				t.Errorf("%s is lost at %s", n.Code, step)
			}
		}
	}
}

// cautions are the codes in the list with the id.
func (s *screen) cautions(id string) (codes []string) {
	_, list, _ := strings.Cut(s.HTML(), fmt.Sprintf("id=%q", id))
	list, _, _ = strings.Cut(list, "</ul>")
	for _, m := range regexp.MustCompile(`data-caution="([^"]+)"`).FindAllStringSubmatch(list, -1) {
		codes = append(codes, m[1])
	}
	return codes
}
