package present_test

import (
	"fmt"

	"twoneedles/app/present"
	"twoneedles/refrig/unit"
)

// What a technician types becomes pascals above the local atmosphere. A unit in
// the text outranks the selected one.
func ExampleParse() {
	for _, text := range []string{"28", "in 12", "1.9 bar", "swings 22-45", ">500"} {
		e, err := present.Parse(text, unit.GaugePressure, unit.PSI)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Printf("%-12s %8.0f Pa, from %.0f to %.0f\n", text, e.Value, e.Lo, e.Hi)
	}
	// Output:
	// 28             193053 Pa, from 193053 to 193053
	// in 12          -40637 Pa, from -40637 to -40637
	// 1.9 bar        190000 Pa, from 190000 to 190000
	// swings 22-45   230974 Pa, from 151685 to 310264
	// >500          3447379 Pa, from 3447379 to 3447379
}

// A number that is usual only in another unit is used as typed, with a question.
func ExampleRead() {
	ambient, _ := present.FieldOf(present.Ambient)
	_, p := present.Read("35", ambient, unit.US())
	m := present.Voice{Words: present.English(), Units: unit.US()}.Problem(p)
	fmt.Println(m.What, m.Why)
	fmt.Println(m.Suggest[0].Words, "→", m.Suggest[0].Text)
	// Output:
	// 35 °F would be unusual here. The same number in another unit would fit.
	// Did you mean 35 °C? → 35 C
}

func ExampleVoice_Range() {
	v := present.Voice{Words: present.English(), Units: unit.US()}
	fmt.Println(v.Range(172369, 234422, unit.GaugePressure))
	fmt.Println(v.Range(-16932, 137895, unit.GaugePressure))
	// Output:
	// 25–34 psi
	// 5 inHg vacuum to 20 psi
}

func ExampleWords_Chance() {
	w := present.English()
	for _, p := range []float64{0.98, 0.74, 0.3, 0.04} {
		fmt.Println(w.Chance(p))
	}
	// Output:
	// more than 19 in 20
	// about 3 in 4
	// about 1 in 3
	// unlikely (less than 1 in 20)
}

func ExampleRetype() {
	fmt.Println(present.Retype("28", unit.GaugePressure, unit.PSI, unit.Bar))
	fmt.Println(present.Retype("1.93", unit.GaugePressure, unit.Bar, unit.PSI))
	fmt.Println(present.Retype("12 in", unit.GaugePressure, unit.PSI, unit.Bar))
	// Output:
	// 1.93
	// 28
	// 12 in
}
