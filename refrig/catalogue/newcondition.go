//go:build ignore

// Newcondition starts a new condition: a catalogue page and a scenario, both with
// the places to fill in left empty. The tests refuse them until they are
// written. It overwrites nothing. Run it at the root of the module, as
// make new-fault ID=… does:
//
//	go run refrig/catalogue/newcondition.go clogged_filter
package main

import (
	"fmt"
	"log"
	"os"
	"path/filepath"
	"regexp"
)

const page = `# 

## In one line

## What the needles show

- Orifice tube with accumulator:
- Expansion valve with receiver:
- Variable or electric compressor:

## Why

## Check next

## Before you act

## Sources
`

// The file name ends in the row, which is given once the row is in cases.csv.
const scenario = `-- source --
row:
cites:
where:
mark:
says:
ours:

-- readings --
refrigerant: unknown
metering: unknown
compressor: unknown

-- want --
kind: diagnosis
group:
in_group: %s
`

const next = `Now
1. add the constant to refrig/car/condition.go;
2. write the page (about 250 words, both units, every number with its source);
3. add the published case to testdata/cases/cases.csv, give the scenario its row,
   in the file and at the end of its name, and fill it in (testdata/cases/README.md);
4. say how the condition acts on a car and how likely it is: follow what
   git grep -n Moisture refrig shows for a condition that is there;
5. run go test ./refrig/...
`

func main() {
	log.SetFlags(0)
	log.SetPrefix("newcondition: ")
	if len(os.Args) != 2 || !regexp.MustCompile(`^[a-z]+(_[a-z]+)*$`).MatchString(os.Args[1]) {
		log.Fatal("want one name of lower-case words joined by _, such as clogged_filter")
	}
	if _, err := os.Stat("go.mod"); err != nil {
		log.Fatal("run this at the root of the module")
	}
	id := os.Args[1]
	write(filepath.Join("refrig", "catalogue", "pages", id+".md"), page)
	write(filepath.Join("testdata", "cases", id+"_ROW.txt"), fmt.Sprintf(scenario, id))
	fmt.Print(next)
}

// write makes a new file; one that exists is left alone.
func write(name, text string) {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		log.Fatal(err)
	}
	if _, err := f.WriteString(text); err != nil {
		log.Fatal(err)
	}
	if err := f.Close(); err != nil {
		log.Fatal(err)
	}
	fmt.Println(name)
}
