package car

import "slices"

// Systems this tool recognises and does not judge: their needles mean other things, or
// they hurt who treats them as a usual car. "" is a usual system. Stable codes.
const (
	CO2            = "r744"            // 50 bar at rest, above 100 running
	HeatPump       = "heat_pump"       // heats the cabin too, through valves that turn the circuit round
	BatteryChiller = "battery_chiller" // a second cold branch that cools the battery
	Coach          = "coach"           // bus, coach or rail with more than 20 kg
)

// systems in the order of a menu.
var systems = []string{"", CO2, HeatPump, BatteryChiller, Coach}

// Systems lists the codes, "" first. The list is the caller's.
func Systems() []string { return slices.Clone(systems) }
