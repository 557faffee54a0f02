package svg

// Class is the look of a mark: a class name that static/css/chart.css knows.
// A test holds the two lists together.
type Class string

// The classes. Low and High are the only ones with a strong colour.
const (
	Grid       Class = "grid"      // grid and axis lines with their labels
	Region90   Class = "region90"  // holds 9 in 10 healthy cars
	Region50   Class = "region50"  // holds half of them
	Own        Class = "own"       // where this very car would stand
	Edge       Class = "edge"      // quiet outline
	Low        Class = "low"       // what belongs to the low side: line
	High       Class = "high"      // what belongs to the high side: line
	LowFill    Class = "low-fill"  // low side: area
	HighFill   Class = "high-fill" // high side: area
	LowBand    Class = "low-band"  // low side: wide band
	HighBand   Class = "high-band" // high side: wide band
	LowCore    Class = "low-core"  // low side: narrow band
	HighCore   Class = "high-core" // high side: narrow band
	LowThin    Class = "low-thin"  // low side: hairline
	HighThin   Class = "high-thin" // high side: hairline
	Point      Class = "point"     // where the reading is
	Past       Class = "past"      // where a reading was
	Swing      Class = "swing"     // area a swinging reading covers
	Drift1     Class = "drift drift1"
	Drift2     Class = "drift drift2"
	Drift3     Class = "drift drift3"
	Drift4     Class = "drift drift4"
	Mark       Class = "mark"       // marker at the end of a drift
	Line       Class = "line"       // plain curve in ink
	Fine       Class = "fine"       // hairline in quiet ink
	Dash       Class = "dash"       // dashed line in quiet ink
	Solid      Class = "solid"      // filled in ink
	Bar        Class = "bar"        // filled bar
	BarLead    Class = "bar-lead"   // filled bar of the leader
	Track      Class = "track"      // what a bar runs in
	Text       Class = "text"       // label
	TextSoft   Class = "text-soft"  // second label
	TextBig    Class = "text-big"   // number or leader
	TextLow    Class = "text-low"   // label of the low side
	TextHigh   Class = "text-high"  // label of the high side
	ValueLow   Class = "value-low"  // number of the low side
	ValueHigh  Class = "value-high" // number of the high side
	NumberLow  Class = "number-low" // the same, as large as the picture's subject
	NumberHigh Class = "number-high"

	// Groups that come in from where they were, across, up or down, or both; the
	// page sets how far (chart.Figure.Moved). Animation elements inside the picture
	// were tried: Chromium does not run them in a picture that is put into the page
	// later.
	GlideX Class = "glide-x"
	GlideY Class = "glide-y"
	Glide  Class = "glide"
)

// Classes lists every class.
var Classes = []Class{
	Grid, Region90, Region50, Own, Edge, Low, High, LowFill, HighFill, LowBand, HighBand,
	LowCore, HighCore, LowThin, HighThin, Point, Past, Swing, Drift1, Drift2, Drift3, Drift4,
	Mark, Line, Fine, Dash, Solid, Bar, BarLead, Track,
	Text, TextSoft, TextBig, TextLow, TextHigh, ValueLow, ValueHigh, NumberLow, NumberHigh,
	GlideX, GlideY, Glide,
}

// Size returns the font size of a text class in units of the view box; the
// style sheet holds the same numbers.
func (c Class) Size() float64 {
	switch c {
	case NumberLow, NumberHigh:
		return 28
	case TextBig, ValueLow, ValueHigh:
		return 17
	case TextSoft, Grid:
		return 13
	}
	return 14
}
