package present

import "twoneedles/refrig/unit"

// Level says what became of an input that has a [Problem].
type Level int

// The levels, from the mildest. Missing is no mistake: the user is not there yet.
const (
	Missing Level = iota // nothing was typed and nothing can stand in
	Assumed              // nothing was typed; a default is used and shown
	Asked                // the number is used as typed, with a question
	Refused              // the number cannot be used
)

// Codes of problems. Each has the texts problem.<code>.what, .why and .next.
const (
	Empty           = "empty"              // nothing typed where something is needed
	NotANumber      = "not_a_number"       // {text}
	UnknownUnit     = "unknown_unit"       // {unit}
	WrongKind       = "wrong_kind"         // {unit}: a temperature in a pressure field and the like
	AbsoluteUnit    = "absolute_unit"      // {unit}: psia, bara
	TooLong         = "too_long"           // {max} characters
	TooMuch         = "too_much"           // {text}: more than the field takes
	NoSwing         = "no_swing"           // the field takes one number
	NoBound         = "no_bound"           // the field takes no > or <
	PeggedNumber    = "pegged_number"      // pegged, but at which number
	BelowVacuum     = "below_vacuum"       // {value} {limit}
	BelowZeroKelvin = "below_zero_kelvin"  // {value} {limit}
	Negative        = "negative"           // {value}
	AboveLimit      = "above_limit"        // {value} {limit}
	BelowLimit      = "below_limit"        // {value} {limit}
	Unusual         = "unusual"            // {value} {lo} {hi}
	PerhapsUnit     = "perhaps_other_unit" // {value}: usual only in another unit
	PerhapsInches   = "perhaps_inches"     // {value} {inches}: below zero in psi, which few dials show
	LowAboveHigh    = "low_above_high"     // {low} {high}
	DefaultUsed     = "default_used"       // {value}
	NoLabelCharge   = "no_label_charge"    // recovered mass without a label to compare
	BadChoice       = "bad_choice"         // {text}
	NeedsRange      = "needs_range"        // one number where a range is wanted
	VacuumTooDeep   = "vacuum_too_deep"    // {value} {limit}: deeper than this altitude's air
)

// Codes of suggestions. Each has the text suggest.<code>.
const (
	MeantUnit  = "meant_unit"  // {value}: "did you mean 35 °C?"
	SwapSides  = "swap_sides"  // the two fields hold each other's number
	TypeVacuum = "type_vacuum" // "for a vacuum type 12 in"
)

// Suggestion is something the user may have meant. The page offers it; nothing
// is changed unless the user takes it.
type Suggestion struct {
	Code string
	Args map[string]any
	Text string // what to put into the field if it is taken; "" if it is no text
}

// Problem is what is wrong, doubtful or assumed about one input. It is an error
// so that it can travel as one; the words for it live in the word files.
type Problem struct {
	Field   FieldID
	After   bool // the field belongs to the readings after the repair
	Code    string
	Level   Level
	Args    map[string]any // text, or a Quantity to be shown in the user's units
	Suggest []Suggestion
}

func (p *Problem) Error() string { return string(p.Field) + ": " + p.Code }

// Amount is an argument of a message: an SI value of a kind, to be shown in the
// user's units when the sentence is made.
type Amount struct {
	Value float64
	Kind  unit.Kind
	Unit  unit.Unit // the unit to show it in; "" is the user's choice
}
