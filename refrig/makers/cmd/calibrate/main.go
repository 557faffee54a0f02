// Command calibrate fits the fleet to makers' published tables and writes
// refrig/fleet/calibration.csv and testdata/makers/calibration.md. Run it from the module
// root (make calibrate).
package main

import (
	"flag"
	"fmt"
	"log"
	"os"

	"twoneedles/refrig/makers"
)

func main() {
	log.SetFlags(0)
	dry := flag.Bool("n", false, "print the report, write nothing")
	flag.Parse()
	f, err := os.Open("testdata/makers/makers.csv")
	if err != nil {
		log.Fatal(err)
	}
	cells, err := makers.Read(f)
	if err != nil {
		log.Fatal(err)
	}
	r, tables, err := makers.Fit(cells)
	if err != nil {
		log.Fatal(err)
	}
	report := makers.Report(r, tables)
	if *dry {
		fmt.Print(report)
		return
	}
	for name, text := range map[string]string{"refrig/fleet/calibration.csv": makers.Calibration(r), "testdata/makers/calibration.md": report} {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			log.Fatal(err)
		}
	}
}
