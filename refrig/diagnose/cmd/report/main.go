// Command report judges the diagnosis on cars it has never seen and writes
// testdata/report: tables in Markdown and reliability pictures. Run it from the
// module root (make report).
package main

import (
	"flag"
	"fmt"
	"log"
	"os"
	"path/filepath"
	"strings"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/internal/judge"
	"twoneedles/refrig/makers"
	"twoneedles/refrig/sim"
)

// Seeds of the trial; none is used in fitting (see diagnose.DefaultRecipe).
const (
	seedTrial = 90210
	seedOther = 90211
	seedBrute = 90212
	seedError = 90213
	seedSharp = 90214 // and those after it
)

func main() {
	// The numbers of the report that is committed; smaller ones are for a quick look.
	cars := flag.Int("cars", 9000, "simulated cars in the trial")
	worlds := flag.Int("worlds", 6, "weathers and kinds of car for the brute-force comparison")
	library := flag.Int("library", 15000, "simulated cars in each brute-force library")
	out := flag.String("out", "testdata/report", "folder to write")
	sharp := flag.Bool("sharpness", false, "write sharpness.md alone: what claiming less costs and brings")
	only := flag.Bool("memory", false, "write memory.md alone: what earlier visits do")
	flag.Parse()
	m, err := diagnose.Load()
	if err != nil {
		log.Fatal(err)
	}
	if err := os.MkdirAll(*out, 0o755); err != nil {
		log.Fatal(err)
	}
	if !*only {
		if err := sharpness(m, *cars*8/9, *out); err != nil {
			log.Fatal(err)
		}
	}
	if *sharp {
		return
	}
	if !*only {
		if err := run(m, *cars, *worlds, *library, *out); err != nil {
			log.Fatal(err)
		}
	}
	if err := memoryReport(m, *cars*2/3, *worlds, *library/2, *out); err != nil {
		log.Fatal(err)
	}
}

func run(m *diagnose.Model, cars, worlds, library int, out string) error {
	var md strings.Builder
	fmt.Fprint(&md, header, "\n")

	if err := published(&md, m); err != nil {
		return err
	}

	own := judge.Home.World
	samples, failed := own.DrawMany(cars, seedTrial)
	fmt.Fprintf(&md, "## Cars from the model itself\n\n%d cars never used in fitting, drawn by the prior odds; %d more failed to solve.\n\n", len(samples), failed)
	scores, err := trial(&md, m, samples)
	if err != nil {
		return err
	}
	if err := reliability(filepath.Join(out, "reliability.svg"), scores); err != nil {
		return err
	}
	confusion(&md, scores[len(scores)-1])

	if err := plan(&md, m, samples[:min(len(samples), 2500)]); err != nil {
		return err
	}

	if err := pairs(&md, m, samples); err != nil {
		return err
	}

	for _, k := range []struct {
		title, text string
		worlds      []judge.Named
	}{
		{"Cars from other worlds", "Each world differs from the fitted one in the way named, for all its cars alike; nothing was refitted.", judge.Worlds()},
		{"Honest mistakes", "Everybody makes the mistake named on every visit; everything else as at home.", judge.Mistakes()},
	} {
		fmt.Fprintf(&md, "## %s\n\n%s\n\n", k.title, k.text)
		if err := others(&md, m, k.worlds, cars/3); err != nil {
			return err
		}
	}

	if err := brute(&md, m, worlds, library); err != nil {
		return err
	}
	discrepancy(&md)
	return os.WriteFile(filepath.Join(out, "README.md"), []byte(md.String()), 0o644)
}

const header = `# How far the answers can be trusted

Written by ` + "`make report`" + `; do not edit. First the only cars that exist in it: what
makers publish of sound ones. Then simulated cars, at home and in worlds the tool was
not fitted to, and the honest mistakes of a working bay. No measured faulty car was
available: of faults these figures say how well the tool reads cars like the ones it
imagines.

What counts as a fault: a change that costs less than 5 % of the cooling and puts
nothing at risk is "within reserve" and counts as healthy (package sim,
` + "`Truth.Reserve`" + `), until the charge is weighed. Car type known, label charge and size not given.
`

// published puts the middles of makers' tables of sound cars to the model.
func published(md *strings.Builder, m *diagnose.Model) error {
	f, err := os.Open(filepath.Join("testdata", "makers", "makers.csv"))
	if err != nil {
		return err
	}
	defer f.Close()
	cells, err := makers.Read(f)
	if err != nil {
		return err
	}
	fmt.Fprint(md, "## Published cars\n\nThe middle of each cell of makers' tables that has both needles and a weather (testdata/makers), typed as a technician would who knows no more than the table says. All are sound. How the tables compare with the fleet that was fitted to them, makers left out one at a time: testdata/makers/calibration.md.\n\n| cell | healthy | its place | leader | chance | verdict |\n| --- | --- | --- | --- | --- | --- |\n")
	n, firstOrSecond, first, claims := 0, 0, 0, 0
	for i := range cells {
		k, ok := cells[i].Case()
		if !ok {
			continue
		}
		r, err := m.Answer(k)
		if err != nil {
			return err
		}
		n++
		for place, x := range r.Ranking {
			if x.ID == car.Healthy {
				fmt.Fprintf(md, "| %s | %.2f | %d | %s | %.2f | %s |\n", cells[i].ID, x.Probability, place+1, r.Ranking[0].ID, r.Ranking[0].Probability, r.Verdict)
				if place == 0 {
					first++
				}
				if place <= 1 {
					firstOrSecond++
				}
			}
		}
		if r.Ranking[0].ID != car.Healthy && r.Ranking[0].Probability >= diagnose.NamedAt {
			claims++
		}
	}
	fmt.Fprintf(md, "\nHealthy first in %d of %d, first or second in %d; a fault claimed with 80 %% or more in %d.\n\n", first, n, firstOrSecond, claims)
	return nil
}

// others reports on worlds the model was not fitted to, a line for each set of
// readings.
func others(md *strings.Builder, m *diagnose.Model, worlds []judge.Named, cars int) error {
	fmt.Fprintln(md, "| world | readings | top-1 | top-2 | log-loss, bit | ECE | healthy accused at 80 % | healthy below 5 % | wrong claims of 80 % among all | claims of 80 % on running cars: made | right |")
	fmt.Fprintln(md, "| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |")
	for i, w := range worlds {
		samples, _ := w.World.DrawMany(cars, seedOther+uint64(i))
		for _, set := range judge.ReadingSets() {
			s, err := judge.Trial(samples, set, judge.Posterior(m))
			if err != nil {
				return err
			}
			fmt.Fprintf(md, "| %s | %s | %.3f | %.3f | %.3f | %.3f | %.1f %% | %.1f %% | %.1f %% | %.0f %% | %.0f %% |\n",
				w.Name, s.Set, s.Top1, s.Top2, s.LogLoss, s.ECE, 100*s.Accused, 100*s.Buried, 100*s.WrongSure, 100*s.Claims, 100*s.ClaimsRight)
		}
	}
	fmt.Fprintln(md)
	return nil
}

func trial(md *strings.Builder, m *diagnose.Model, samples []sim.Sample) ([]judge.Score, error) {
	var scores []judge.Score
	fmt.Fprintln(md, "| readings | top-1 | top-2 | severe top-1 | severe top-2 | log-loss, bit | Brier | ECE | healthy accused at 80 % | AUC |")
	fmt.Fprintln(md, "| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |")
	for _, set := range judge.ReadingSets() {
		s, err := judge.Trial(samples, set, judge.Posterior(m))
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(md, "| %s | %.3f | %.3f | %.3f | %.3f | %.3f | %.3f | %.3f | %.1f %% | %.3f |\n",
			s.Set, s.Top1, s.Top2, s.Severe1, s.Severe2, s.LogLoss, s.Brier, s.ECE, 100*s.Accused, s.AUC)
		scores = append(scores, s)
	}
	fmt.Fprintln(md, "\nSevere: faults of severity 0.4 and more, reserve cars left out. A claim: a condition at one half or more.")
	fmt.Fprintln(md, "\n| readings | sound: correct | no response | false alarm | faulty: correct | no diagnosis | no response | missed | misdiagnosis |")
	fmt.Fprintln(md, "| --- | --- | --- | --- | --- | --- | --- | --- | --- |")
	for _, s := range scores {
		o := s.Outcomes
		fmt.Fprintf(md, "| %s | %.3f | %.3f | %.3f | %.3f | %.3f | %.3f | %.3f | %.3f |\n", s.Set,
			o.SoundCorrect, o.SoundNoResponse, o.FalseAlarm, o.Correct, o.NoDiagnosis, o.NoResponse, o.MissedDetection, o.Misdiagnosis)
	}
	fmt.Fprintln(md)
	return scores, nil
}

func plan(md *strings.Builder, m *diagnose.Model, samples []sim.Sample) error {
	fmt.Fprint(md, "### Three measurements chosen one after the other\n\nOn faulty cars, from two needles, ambient and humidity; mean log-loss of the truth in bit. The best fixed order is the best of all triples, chosen with hindsight on these very cars.\n\n")
	fmt.Fprint(md, "| measurements to choose from | cars | before | chosen by expected gain | best fixed order | everything | share of the whole reduction |\n| --- | --- | --- | --- | --- | --- | --- |\n")
	for _, k := range []struct {
		name string
		from []car.Quantity
	}{
		{"without weighing", judge.Planned()},
		{"with recovering and weighing", append(judge.Planned(), car.Recovered)},
	} {
		s, err := judge.PlanTrial(m, samples, k.from)
		if err != nil {
			return err
		}
		fmt.Fprintf(md, "| %s | %d | %.3f | %.3f | %.3f (%s) | %.3f | %.0f %% |\n", k.name, s.Cars, s.Start, s.Plan, s.Fixed, join(s.FixedOrder), s.All, 100*s.Share())
	}
	fmt.Fprintln(md)
	return nil
}

// pairs reports on cars with two faults at once.
func pairs(md *strings.Builder, m *diagnose.Model, samples []sim.Sample) error {
	fmt.Fprint(md, "### Two faults at once\n\n| readings | cars | fault seen | \"two things\" in the first two | it or one of the two leads | pair named | both right | at least one right |\n| --- | --- | --- | --- | --- | --- | --- | --- |\n")
	for _, set := range judge.ReadingSets() {
		s, err := judge.PairTrial(m, samples, set)
		if err != nil {
			return err
		}
		fmt.Fprintf(md, "| %s | %d | %.2f | %.2f | %.2f | %.2f | %.2f | %.2f |\n", set.Name, s.Cars, s.Seen, s.Together, s.OneFirst, s.Named, s.Right, s.HalfRight)
	}
	fmt.Fprintln(md)
	return nil
}

// discrepancy reports what the model's stated error rests on.
func discrepancy(md *strings.Builder) {
	d, n := sim.EstimateDiscrepancy(1000, seedError)
	e := sim.ModelError()
	fmt.Fprintf(md, "## The model's own error\n\nRoot mean square difference between two sets of laws on the same %d cars, and the error every simulated car is given: for needles and vent what is left between makers' published tables and the model, for the rest the first line rounded up.\n\n", n)
	fmt.Fprint(md, "| | low side, % | high side, % | vent, K | discharge, K | suction, K | liquid, K | second pressure / first, % |\n| --- | --- | --- | --- | --- | --- | --- | --- |\n")
	for _, k := range []struct {
		name string
		d    sim.Discrepancy
	}{{"between the laws", d}, {"in force", e}} {
		fmt.Fprintf(md, "| %s | %.1f | %.1f | %.2f | %.1f | %.1f | %.1f | %.1f |\n", k.name, 100*k.d.Low.Total(), 100*k.d.High.Total(), k.d.Vent.Total(), k.d.Discharge, k.d.Suction, k.d.Liquid, 100*k.d.Test)
	}
	fmt.Fprintln(md)
}

func join(q []car.Quantity) string {
	var out []string
	for _, k := range q {
		out = append(out, string(k))
	}
	return strings.Join(out, ", ")
}

func confusion(md *strings.Builder, s judge.Score) {
	fmt.Fprintf(md, "### Mean probability given to each answer (columns) by the truth (rows), %s\n\n| truth |", s.Set)
	for i := range car.Conditions() {
		fmt.Fprintf(md, " %d |", i+1)
	}
	fmt.Fprint(md, "\n| --- |", strings.Repeat(" --- |", len(car.Conditions())), "\n")
	for i, id := range car.Conditions() {
		fmt.Fprintf(md, "| %d %s |", i+1, id)
		for _, v := range s.Confusion[i] {
			if v < 0.005 {
				fmt.Fprint(md, " |")
			} else {
				fmt.Fprintf(md, " %.2f |", v)
			}
		}
		fmt.Fprintln(md)
	}
	fmt.Fprintln(md)
}

// brute compares the fitted posterior with Bayes' rule over a library simulated
// for one weather and kind of car at a time, and that library with a tenth of
// itself.
func brute(md *strings.Builder, m *diagnose.Model, worlds, library int) error {
	fmt.Fprintf(md, "## Against brute force\n\n%d weathers and kinds of car; in each, %d cars simulated for it alone and weighed by Bayes' rule, the same with a tenth of them, and the fitted posterior; 60 new cars each. Log-loss in bit; conditions that spoil readings left out.\n\n", worlds, library)
	sets := judge.ReadingSets()[1:6]
	sum := make([][3]float64, len(sets))
	top := make([][2]float64, len(sets))
	n := 0.0
	r := fleet.NewRand(seedBrute)
	for range worlds {
		w := judge.BruteWorld(r)
		full := judge.NewBrute(w, library, r.Uint64()>>24)
		tenth := judge.NewBrute(w, library/10, r.Uint64()>>24)
		samples, _ := w.DrawMany(60, r.Uint64()>>24)
		for i, set := range sets {
			k, err := judge.CompareBrute(m, samples, set, full, tenth)
			if err != nil {
				return err
			}
			for j := range k.LogLoss {
				sum[i][j] += k.LogLoss[j] * k.Cars
			}
			top[i][0] += k.Top1[0] * k.Cars
			top[i][1] += k.Top1[1] * k.Cars
			if i == 0 {
				n += k.Cars
			}
		}
	}
	fmt.Fprintln(md, "| readings | fitted posterior | brute force | brute force, a tenth | top-1 fitted | top-1 brute |\n| --- | --- | --- | --- | --- | --- |")
	for i, set := range sets {
		fmt.Fprintf(md, "| %s | %.3f | %.3f | %.3f | %.3f | %.3f |\n", set.Name, sum[i][0]/n, sum[i][1]/n, sum[i][2]/n, top[i][0]/n, top[i][1]/n)
	}
	fmt.Fprintln(md)
	return nil
}
