package refrig

// Warning says that there is a result, to be read with care. Code is stable;
// the words for it live in a data file of the screen, which fills in Args by
// name.
type Warning struct {
	Code string             // "icing", "assumed_humidity", …
	Args map[string]float64 // SI values the sentence may need
}
