package service

// RetrofitPlan is the charge and the list for turning an R-12 system to R-134a.
type RetrofitPlan struct {
	Charge Estimate // kg of R-134a: the two customary rules and what lies between
	Rules  []Rule   // what they are; fraction of the R-12 charge, and kg
	// HighSide is how much higher the high side then stands, Pa: an Army manual's
	// figure and the most that is commonly seen.
	HighSide []Rule
	Steps    []Rule // codes in order; no numbers
}

// Retrofit returns the R-134a charge for an R-12 label charge in kg:
//
//	80…90 % of the R-12 mass, or 0.9 of it less a quarter pound
//
// both common practice. Charge to the lower, judge by vent and superheat, and label
// what went in. A [*refrig.RangeError] names a charge outside 0.5…2.5 kg: R-12 cars
// held 0.9 to 1.7 kg.
func Retrofit(r12 float64) (RetrofitPlan, error) {
	if err := check("R-12 charge", r12, 0.5, 2.5, "kg", "judgement"); err != nil {
		return RetrofitPlan{}, err
	}
	formula := 0.9*r12 - 4*ounce // common practice
	return RetrofitPlan{
		Charge: Estimate{0.85 * r12, min(0.8*r12, formula), 0.9 * r12},
		Rules: []Rule{
			{"retrofit_fraction", 0.8, 0.9, CommonPractice, ""},
			{"retrofit_formula", formula, formula, CommonPractice, ""},
		},
		HighSide: []Rule{
			{"retrofit_high_side", 20 * psi, 20 * psi, Published, "USArmy307"},
			{"retrofit_high_side_most", 45 * psi, 45 * psi, CommonPractice, ""},
		},
		Steps: []Rule{
			{"recover_all_r12", 0, 0, Published, "SNAP"},
			{"never_mix", 0, 0, Published, "USArmy291"}, // black sludge
			{"drain_mineral_oil", 0, 0, CommonPractice, ""},
			{"replace_drier", 0, 0, CommonPractice, ""},
			{"replace_orings_and_doubtful_hoses", 0, 0, CommonPractice, ""},
			{"high_pressure_cutout", 0, 0, CommonPractice, ""},
			{"oil_for_r134a", 0, 0, CommonPractice, ""},
			{"unique_fittings", 0, 0, Published, "SNAP"},
			{"detailed_label", 0, 0, Published, "SNAP"},
			{"check_condenser_airflow", 0, 0, CommonPractice, ""},
		},
	}, nil
}
