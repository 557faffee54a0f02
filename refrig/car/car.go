// Package car holds what a technician knows of a car, its weather and how it is
// running, with "don't know" as an answer to each question; what can be read
// ([Quantity], [Reading]), the conditions a car can be in ([ConditionID]) and all of
// it together as one [Case]. It computes nothing.
package car

// Refrigerants by their ASHRAE 34 designation without the hyphen. The empty
// string means "don't know".
const (
	R134a   = "R134a"
	R1234yf = "R1234yf"
	R12     = "R12"
)

// Metering is the device that lets liquid into the evaporator.
type Metering int

// Metering devices; the zero value is "don't know".
const (
	MeteringUnknown Metering = iota
	OrificeTube              // fixed orifice tube, accumulator in the suction line
	ExpansionValve           // thermostatic expansion valve, receiver-drier in the liquid line
)

// Compressor is the kind of compressor and of its capacity control.
type Compressor int

// Compressor kinds; the zero value is "don't know".
const (
	CompressorUnknown Compressor = iota
	Fixed                        // fixed displacement, clutch cycles on pressure or fin temperature
	Variable                     // variable displacement
	Electric                     // electrically driven, variable speed
)

// HighPort tells where the high-side service port sits.
type HighPort int

// Positions of the high port; the zero value is "don't know".
const (
	PortUnknown   HighPort = iota
	PortDischarge          // between compressor and condenser
	PortLiquid             // in the liquid line, after the condenser
)

// Size is the rough size of the system.
type Size int

// Sizes; the zero value is "don't know".
const (
	SizeUnknown Size = iota
	SizeSmall
	SizeMedium
	SizeLarge
)

// Spec is what is known of the car. The zero value knows nothing.
type Spec struct {
	Refrigerant string // R134a, R1234yf, R12 or ""
	Metering    Metering
	Compressor  Compressor
	HighPort    HighPort
	Size        Size
	Evaporators int     // 1 or 2; 0 unknown
	LabelCharge float64 // kg on the under-bonnet label; 0 unknown
}

// Weather is the air the car stands in.
type Weather struct {
	Ambient  float64 // dry-bulb temperature of the air entering the condenser, K
	Humidity float64 // relative humidity of that air, 0…1
	Altitude float64 // height above sea level, m
	// HumidityKnown is false when Humidity is an assumption; the answer then
	// integrates over the humidity the air could have.
	HumidityKnown bool
}

// Doors says whether the car's doors stand open while the gauges are read. With
// open doors the coil breathes outside air whatever the air lever says.
type Doors int

// Positions of the doors; the zero value is "don't know".
const (
	DoorsUnknown Doors = iota
	DoorsOpen
	DoorsClosed
)

// Running is how the system is being run while the gauges are read.
type Running struct {
	RPM    float64 // engine speed, 1/min (an electric compressor ignores it)
	Blower float64 // cabin blower, 0…1 of its highest setting
	Recirc bool    // recirculating cabin air instead of taking outside air
	Doors  Doors
	// RPMKnown is false when RPM is an assumption.
	RPMKnown bool
}

// Rest is how the car stood when the resting pressure was read, which is rarely
// the weather of the running test: it rested overnight, or in the sun.
type Rest struct {
	// Temperature of the car, K; 0 where nobody took it, and then the outside
	// temperature of the running test stands for it.
	Temperature float64
	// Soaked is set where somebody made sure that every part had come to it.
	Soaked bool
}
