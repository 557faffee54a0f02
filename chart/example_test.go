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
		Chances: present.English().Chances})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(f.Summary)
	fmt.Println(f.Table.Head)
	fmt.Println(f.Table.Rows)
	// Output:
	// Most likely: Poor condenser airflow, about 3 in 4. Then: Healthy, about 1 in 4.
	// [Condition How likely]
	// [[Poor condenser airflow about 3 in 4] [Healthy about 1 in 4]]
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
