package job

import (
	"crypto/rand"
	"encoding/base32"
	"maps"
	"reflect"
	"slices"
	"strings"
	"time"

	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// Version is the schema version this program writes. restore.go reads it and
// every older one.
const Version = 2

// Format marks a job among other JSON objects.
const Format = "twoneedles-job"

// Job is one car on one occasion: what was typed and chosen, never a result. A
// text is in the unit that Units names for its kind, unless it names its own.
type Job struct {
	Format  string    `json:"format"`
	Version int       `json:"version"`
	ID      string    `json:"id,omitempty"`
	Created time.Time `json:"created,omitzero"`
	Updated time.Time `json:"updated,omitzero"`
	Title   string    `json:"title,omitempty"`
	// Example is the name of the invented car the job was started from.
	Example string     `json:"example,omitempty"`
	Units   unit.Units `json:"units"`
	Car     Car        `json:"car"`
	// Text holds what was typed outside a visit: label charge, service figures,
	// recovery, charge and the like. An absent key is an empty field.
	Text   map[present.FieldID]string `json:"text,omitempty"`
	Before Visit                      `json:"before"`
	After  Visit                      `json:"after,omitzero"`
	Repair Repair                     `json:"repair,omitzero"`
	Notes  string                     `json:"notes,omitempty"` // private: never in a link
	// Who and whose: they leave the device only where somebody chose so.
	Shop       string `json:"shop,omitempty"`
	Plate      string `json:"plate,omitempty"`
	Odometer   string `json:"odometer,omitempty"`
	Technician string `json:"technician,omitempty"`
	// TellIn is the language chosen for the customer's sheet, "" for the page's own.
	TellIn string `json:"tellIn,omitempty"`
	// OfCar is the name somebody gave the car, "" if none: jobs of one name are visits of
	// one car.
	OfCar string `json:"ofCar,omitempty"`
	// LeftOut names the visits of the car that the answer to this job leaves out:
	// SoundVisit.Name.
	LeftOut []string `json:"leftOut,omitempty"`
	// Table is the maker's table of this car; it stays with the car from job to job.
	Table []TableRow `json:"table,omitempty"`
	Past  []Past     `json:"past,omitempty"` // earlier visits that came along with the job
	// Learnt is how many jobs of a device had taught the answer that was given there when
	// this one was last edited or handed on, 0 if it took nothing that was learnt. Elsewhere
	// and later the same readings may get another answer.
	Learnt int `json:"learnt,omitempty"`
}

// Car holds the choices about the car by the codes of package car; "" and 0 mean
// "don't know".
type Car struct {
	Refrigerant string `json:"refrigerant,omitempty"` // R134a, R1234yf, R12
	Metering    string `json:"metering,omitempty"`    // orifice_tube, expansion_valve
	Compressor  string `json:"compressor,omitempty"`  // fixed, variable, electric
	HighPort    string `json:"highPort,omitempty"`    // discharge, liquid
	Size        string `json:"size,omitempty"`        // small, medium, large
	Evaporators int    `json:"evaporators,omitempty"` // 1, 2
	System      string `json:"system,omitempty"`      // what is recognised and not judged: car.Systems
}

// Visit is the air, the way the engine ran and what was read, once before and
// once after the repair.
type Visit struct {
	// Text holds ambient, humidity, altitude, rpm and blower.
	Text     map[present.FieldID]string `json:"text,omitempty"`
	Recirc   bool                       `json:"recirc,omitempty"`
	Doors    string                     `json:"doors,omitempty"` // a code of car.DoorPositions
	Readings map[car.Quantity]Reading   `json:"readings,omitempty"`
	// Engine says whether the engine ran while the needles were read: one of Engines.
	// While it is off they are a resting pressure.
	Engine string `json:"engine,omitempty"`
	Log    Log    `json:"log,omitzero"` // how it ran over time
	// Sound says that the car was in order at this visit, proved or so marked: its
	// readings are a ruler for the same car later.
	Sound bool `json:"sound,omitempty"`
}

// Engines are the answers to whether the engine runs; the first is "not said".
var Engines = []string{"", EngineOn, EngineOff}

// The engine, as [Visit] has it.
const (
	EngineOn  = "on"
	EngineOff = "off"
)

// Log is the car watched for a while: readings with their times, and the clicks of the
// clutch.
type Log struct {
	Start  time.Time  `json:"start,omitzero"`   // when its clock was started, while that runs
	Points []LogPoint `json:"points,omitempty"` // by rising time
	// Clicks are the times of the clicks since the start, s, by turns in and out; the
	// first is in.
	Clicks []float64 `json:"clicks,omitempty"`
}

// LogPoint is one line of the log as typed.
type LogPoint struct {
	Time string `json:"time"` // since the start
	Low  string `json:"low,omitempty"`
	High string `json:"high,omitempty"`
	Vent string `json:"vent,omitempty"`
}

// Reading is one reading as typed.
type Reading struct {
	Text string `json:"text,omitempty"`
	// Swing says that Lo and Hi hold the ends of a swing and Text does not count.
	// Both sets of texts are kept, so that switching back and forth loses nothing.
	Swing  bool   `json:"swing,omitempty"`
	Lo     string `json:"lo,omitempty"`
	Hi     string `json:"hi,omitempty"`
	Choice string `json:"choice,omitempty"` // the answer where there is no number
}

// Repair is what was done, as typed and ticked.
type Repair struct {
	Done       []string    `json:"done,omitempty"`       // steps finished: Steps
	LeaksFound []string    `json:"leaksFound,omitempty"` // places: Places
	Parts      []string    `json:"parts,omitempty"`      // parts replaced: Parts
	Soaked     bool        `json:"soaked,omitempty"`     // at rest, every part had come to one temperature
	Opened     bool        `json:"opened,omitempty"`     // the circuit was opened
	SuddenLeak bool        `json:"suddenLeak,omitempty"` // it went at once, with oil
	Broken     bool        `json:"broken,omitempty"`     // the compressor failed inside
	Flushed    bool        `json:"flushed,omitempty"`    // the whole circuit was flushed
	Retest     string      `json:"retest,omitempty"`     // the search under gas after the repair: Retests
	Hoses      string      `json:"hoses,omitempty"`      // left in the charging hoses: Hoses
	Oil        string      `json:"oil,omitempty"`        // oil used: Oils
	Cause      string      `json:"cause,omitempty"`      // the condition the technician settled on
	FoundAt    time.Time   `json:"foundAt,omitzero"`     // when Cause was confirmed at the car
	Work       string      `json:"work,omitempty"`       // what was done, for the customer
	Hold       []HoldPoint `json:"hold,omitempty"`       // hold test after evacuation
	HoldStart  time.Time   `json:"holdStart,omitzero"`   // when its pump was shut off, while its clock runs
}

// HoldPoint is one line of the hold test as typed.
type HoldPoint struct {
	Time     string `json:"time"`     // since the pump was shut off
	Pressure string `json:"pressure"` // vacuum gauge, absolute; or inHg of a compound gauge
}

// The choices of [Repair], in the order of the work. Words: "job.step.<id>",
// "place.<id>", "part.<id>", "hoses.<id>", "oil.<id>".
var (
	Steps  = []string{"find", "recover", "repair", "retest", "evacuate", "charge", "prove"} // present.Step
	Places = []string{"service_ports", "fittings", "condenser_face", "hoses_and_crimps", "pressure_switches",
		"compressor_shaft_seal", "compressor_body", "relief_valve", "drier_or_accumulator",
		"valve_block", "evaporator_drain", "rear_lines", "rear_evaporator"} // codes of refrig/service's search order
	Parts = []string{"compressor", "condenser", "evaporator", "rear_unit", "receiver_drier", "accumulator",
		"metering_device", "hose", "service_port", "seals", "switch", // codes of refrig/service's parts
		"condenser_fan", "blower", "cabin_filter", "belt"} // outside the circuit
	Retests = []string{"", "tight", "leak"}
	Hoses   = []string{"", "drawn_in", "liquid", "vapour"} // what stays in the charging hoses
	Oils    = []string{"", "pag46", "pag100", "pag150", "pag_yf", "poe", "mineral", "other"}
)

// New returns an empty job in the given units, made now.
func New(now time.Time, units unit.Units) Job {
	now = now.UTC().Truncate(time.Second)
	return Job{
		Format: Format, Version: Version, ID: NewID(),
		Created: now, Updated: now, Units: units,
	}
}

// NewID returns 16 random characters: jobs made on two devices must not meet.
func NewID() string {
	var b [10]byte
	rand.Read(b[:]) // never fails: it ends the program instead
	return strings.ToLower(base32.StdEncoding.EncodeToString(b[:]))
}

// Clone returns a copy that shares nothing with j.
func (j Job) Clone() Job {
	j.Text = maps.Clone(j.Text)
	j.Before, j.After = j.Before.clone(), j.After.clone()
	j.Table = slices.Clone(j.Table)
	j.LeftOut, j.Past = slices.Clone(j.LeftOut), slices.Clone(j.Past) // what is in a Past never changes
	j.Repair.Done = slices.Clone(j.Repair.Done)
	j.Repair.LeaksFound = slices.Clone(j.Repair.LeaksFound)
	j.Repair.Parts = slices.Clone(j.Repair.Parts)
	j.Repair.Hold = slices.Clone(j.Repair.Hold)
	return j
}

func (v Visit) clone() Visit {
	v.Text, v.Readings = maps.Clone(v.Text), maps.Clone(v.Readings)
	v.Log.Points, v.Log.Clicks = slices.Clone(v.Log.Points), slices.Clone(v.Log.Clicks)
	return v
}

// SetText puts typed text into a field outside the visits; "" removes it.
func (j *Job) SetText(id present.FieldID, text string) { set(&j.Text, id, text) }

// SetText puts typed text into a field of the visit; "" removes it.
func (v *Visit) SetText(id present.FieldID, text string) { set(&v.Text, id, text) }

// SetReading puts a reading into the visit; the zero Reading removes it.
func (v *Visit) SetReading(q car.Quantity, r Reading) { set(&v.Readings, q, r) }

func set[K, V comparable](m *map[K]V, k K, v V) {
	var zero V
	if v == zero {
		delete(*m, k)
		return
	}
	if *m == nil {
		*m = map[K]V{}
	}
	(*m)[k] = v
}

// Empty tells whether nothing was read or typed at this visit.
func (v Visit) Empty() bool { return len(v.Text) == 0 && len(v.Readings) == 0 && v.Log.Empty() }

// Empty tells whether nothing was logged.
func (l Log) Empty() bool { return l.Start.IsZero() && len(l.Points) == 0 && len(l.Clicks) == 0 }

// Blank tells whether nothing was typed or chosen at all, the shop's name aside.
func (j Job) Blank() bool {
	return j.Title == "" && j.Example == "" && j.Notes == "" && j.Car == (Car{}) && len(j.Text) == 0 &&
		j.Before.Empty() && j.After.Empty() && reflect.ValueOf(j.Repair).IsZero()
}

// outside are the parts that are no part of the circuit.
var outside = []string{"condenser_fan", "blower", "cabin_filter", "belt"}

// CircuitTouched tells if refrigerant was taken out or put in, or the circuit opened: then
// the charge has to be right and the circuit tight before anything is proved. A new fan
// asks for neither.
func (j Job) CircuitTouched() bool {
	r := j.Repair
	_, out := j.Before.Readings[car.Recovered]
	_, in := j.Text[present.MassIn]
	part := slices.ContainsFunc(r.Parts, func(p string) bool { return !slices.Contains(outside, p) })
	done := slices.ContainsFunc([]string{"recover", "retest", "evacuate", "charge"}, func(step string) bool { return slices.Contains(r.Done, step) })
	return r.Opened || r.SuddenLeak || r.Flushed || r.Retest != "" || len(r.LeaksFound) > 0 || out || in || len(r.Hold) > 0 || part || done
}

// VisitFields are typed once per visit, as readings are; Fields belong to the whole job.
var (
	VisitFields = []present.FieldID{present.Ambient, present.Humidity, present.Altitude, present.EngineSpeed, present.Blower}
	Fields      = []present.FieldID{
		present.LabelCharge, present.ServiceLow, present.ServiceHigh,
		present.MassAtStart, present.LeakMonths, present.MassOut, present.MassIn, present.OilOut, present.OilIn,
		present.PumpTime, present.HoseLength, present.HoseBore, present.SystemVolume, present.LeakPressure,
		present.RetestEnd, present.RetestTime, present.RetestStartTemp, present.RetestEndTemp,
		present.RestingHigh, present.Soak, present.OutTemp, present.OutPressure,
		present.VacuumReached, present.DrainedCompressor, present.DrainedAccumulator, present.NewCompressorOil, present.LabelOil, present.DyeIn, present.R12Charge,
	}
)
