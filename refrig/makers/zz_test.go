package makers

import (
	"fmt"
	"math"
	"os"
	"testing"
)

func TestZZ(t *testing.T) {
	f, _ := os.Open("../../testdata/makers/tables.csv")
	cells, err := Read(f)
	if err != nil {
		t.Fatal(err)
	}
	r, tables, err := Fit(cells)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range LeaveOneOut(r, tables) {
		u := [3]float64{351.3, 100, 1}[l.Kind]
		fmt.Printf("%-22s %d amb %.1f off %+7.1f sd %.1f\n", l.Cell, l.Kind, l.Ambient-273.15, l.Off*u, l.SD*u)
	}
	for _, tb := range tables {
		for i := range tb.kind {
			k := tb.kind[i]
			y, fv := tb.y.AtVec(i), tb.f.AtVec(i)
			sd := math.Sqrt(tb.c.At(i, i))
			if k < 2 {
				fmt.Printf("%-22s %d table %.0f model %.0f kPa  sdtest %.3f\n", tb.cells[tb.cell[i]].ID, k, (math.Exp(y)-101325)/1e3, (math.Exp(fv)-101325)/1e3, sd)
			} else {
				fmt.Printf("%-22s %d table %.1f model %.1f sdtest %.1f\n", tb.cells[tb.cell[i]].ID, k, y-273.15, fv-273.15, sd)
			}
		}
	}
}
