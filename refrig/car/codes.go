package car

import "slices"

// Codes of the kinds of car: saved jobs, links, tables and word files hold them, so
// they are stable. Each list stands in the order of its constants; "" is "don't know".
var (
	meterings   = []string{"", "orifice_tube", "expansion_valve"}
	compressors = []string{"", "fixed", "variable", "electric"}
	highPorts   = []string{"", "discharge", "liquid"}
	sizes       = []string{"", "small", "medium", "large"}
	doors       = []string{"", "open", "closed"}
)

// Refrigerants lists the refrigerants, "" first. The list is the caller's.
func Refrigerants() []string { return []string{"", R134a, R1234yf, R12} }

// Meterings lists the codes of the metering devices, "" first. The list is the caller's.
func Meterings() []string { return slices.Clone(meterings) }

// Compressors lists the codes of the kinds of compressor, "" first. The list is the caller's.
func Compressors() []string { return slices.Clone(compressors) }

// HighPorts lists the codes of the places of the high port, "" first. The list is the caller's.
func HighPorts() []string { return slices.Clone(highPorts) }

// Sizes lists the codes of the sizes, "" first. The list is the caller's.
func Sizes() []string { return slices.Clone(sizes) }

// DoorPositions lists the codes of the positions of the doors, "" first. The list is
// the caller's.
func DoorPositions() []string { return slices.Clone(doors) }

// Code is the stable name of m; "" if it is not known or no metering device.
func (m Metering) Code() string { return codeOf(meterings, m) }

// Code is the stable name of c; "" if it is not known or no compressor.
func (c Compressor) Code() string { return codeOf(compressors, c) }

// Code is the stable name of p; "" if it is not known or no port.
func (p HighPort) Code() string { return codeOf(highPorts, p) }

// Code is the stable name of s; "" if it is not known or no size.
func (s Size) Code() string { return codeOf(sizes, s) }

// Code is the stable name of d; "" if it is not known or no position.
func (d Doors) Code() string { return codeOf(doors, d) }

// DoorsOf is the inverse of [Doors.Code]; ok is false for a code that is none.
func DoorsOf(code string) (d Doors, ok bool) { return of[Doors](doors, code) }

// MeteringOf is the inverse of [Metering.Code]; ok is false for a code that is none.
func MeteringOf(code string) (m Metering, ok bool) { return of[Metering](meterings, code) }

// CompressorOf is the inverse of [Compressor.Code]; ok is false for a code that is none.
func CompressorOf(code string) (c Compressor, ok bool) { return of[Compressor](compressors, code) }

// HighPortOf is the inverse of [HighPort.Code]; ok is false for a code that is none.
func HighPortOf(code string) (p HighPort, ok bool) { return of[HighPort](highPorts, code) }

// SizeOf is the inverse of [Size.Code]; ok is false for a code that is none.
func SizeOf(code string) (s Size, ok bool) { return of[Size](sizes, code) }

func codeOf[K ~int](codes []string, k K) string {
	if k < 0 || int(k) >= len(codes) {
		return ""
	}
	return codes[k]
}

func of[K ~int](codes []string, code string) (K, bool) {
	i := slices.Index(codes, code)
	return K(max(i, 0)), i >= 0
}
