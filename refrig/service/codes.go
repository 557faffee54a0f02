package service

// WarningCodes returns every code a [refrig.Warning] of this package can carry, so
// that the screen's words can be tied to them.
func WarningCodes() []string {
	return []string{
		"cold_charge",
		"converted_follow_label",
		"drain_and_measure_accumulator",
		"drain_and_measure_compressor",
		"below_triple_point",
		"flushed_needs_label",
		"gauge_too_coarse",
		"hoses_exceed_tolerance",
		"measure_new_compressor",
		"more_than_label",
		"never_by_pressure",
		"not_soaked",
		"oil_beyond_label",
		"oil_capped",
		"oil_holds_refrigerant",
		"oil_without_label",
		"opened_pag_is_scrap",
		"outside_detector_ambient",
		"outside_equipment_ambient",
		"pag_conducts",
		"plateau_below_water",
		"recovered_less_than_display_error",
		"recovery_too_cold",
		"scatter_beyond_gauge",
		"tight_does_not_show_limit",
		"too_little_pressure_to_search",
	}
}
