// Package lookup is the pressure–temperature table of the trade: saturation of the
// three refrigerants at the altitude of the job, both ways. On a phone it is worked
// with one thumb and needs no scrolling; printed it is a card for the wall.
//
// All three are single fluids, so one pressure has one temperature. Blends, which
// boil over a range of temperatures, are not here.
package lookup
