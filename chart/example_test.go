package chart_test

import (
	"fmt"

	"twoneedles/app/present"
	"twoneedles/chart"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// A figure says the same as a picture, as sentences and as a table.
func ExampleOdds() {
	f, err := chart.Odds([]diagnose.Ranked{
		{ID: car.CondenserAirflow, Probability: 0.74},
		{ID: car.Healthy, Probability: 0.26},
	}, chart.Options{ID: "odds", Units: unit.US(), Words: present.English().T,
		Chance: func(p float64) string { return fmt.Sprintf("%.0f in 100", 100*p) }, Percent: present.English().Percent})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(f.Summary)
	fmt.Println(f.Table.Head)
	fmt.Println(f.Table.Rows)
	// Output:
	// Most likely: Poor condenser airflow, 74 in 100. Then: Healthy, 26 in 100.
	// [Condition How likely In percent]
	// [[Poor condenser airflow 74 in 100 75 %] [Healthy 26 in 100 25 %]]
}

// Numbers that no gauge can show are refused by name, with the limits.
func ExamplePlane_refused() {
	r := chart.Reading{Low: chart.Steady(9e99, 0)}
	_, err := chart.Plane(diagnose.Plane{}, r, nil, chart.Options{
		ID: "plane", Units: unit.Metric(), Words: present.English().T,
	})
	fmt.Println(err)
	// Output: gauge pressure 9e+99 Pa is outside -110000 to 1e+07 Pa [judgement]
}
