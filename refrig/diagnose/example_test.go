package diagnose_test

import (
	"fmt"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// An invented car on a 32 °C day: both needles stand high.
func Example() {
	model, err := diagnose.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	asked, err := model.Ask(car.Case{
		Car:     car.Spec{Refrigerant: car.R134a, Metering: car.OrificeTube, Compressor: car.Fixed},
		Weather: car.Weather{Ambient: 305.15, Humidity: 0.5, HumidityKnown: true},
		Running: car.Running{RPM: 1500, RPMKnown: true, Blower: 1},
		Readings: car.Readings{
			car.Low:  {Value: 380e3}, // Pa gauge
			car.High: {Value: 2600e3},
		},
	})
	if err != nil {
		fmt.Println(err) // it names the value and its limits
		return
	}
	answer := asked.Answer()
	fmt.Println("pattern:", answer.Group)
	fmt.Println("likeliest:", answer.Ranking[0].ID)
	fmt.Println("is it healthy?", answer.Ranking[0].ID == car.Healthy)
	fmt.Println("something left to measure?", len(asked.Next()) > 0)
	// Output:
	// pattern: both_high
	// likeliest: condenser_airflow
	// is it healthy? false
	// something left to measure? true
}
