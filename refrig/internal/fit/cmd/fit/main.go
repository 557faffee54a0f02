//go:build !js

// Command fit simulates the fleet and fits the networks of package nets,
// writing refrig/internal/nets/fitted. Run it from the module root (make fit); it takes
// about half an hour on two cores and gives the same networks each time on the
// same kind of machine. The memory network comes last, upon the others; alone it takes
// some ten minutes (make fit-memory).
package main

import (
	"flag"
	"fmt"
	"log"
	"os"
	"path/filepath"

	"twoneedles/refrig/internal/fit"
)

func main() {
	rc := fit.DefaultRecipe()
	flag.IntVar(&rc.Cars, "cars", rc.Cars, "simulated cars")
	flag.IntVar(&rc.HealthyCars, "healthy", rc.HealthyCars, "simulated healthy cars")
	flag.IntVar(&rc.PosteriorStep, "posterior", rc.PosteriorStep, "training steps of the posterior")
	flag.IntVar(&rc.PredictStep, "predict", rc.PredictStep, "training steps of the predictor")
	flag.IntVar(&rc.BandStep, "bands", rc.BandStep, "training steps of the bands")
	out := flag.String("out", "refrig/internal/nets/fitted", "folder to write")
	groups := flag.Bool("groups", false, "keep the networks and only count the groups again")
	memory := flag.Bool("memory", false, "keep the networks and only fit the memory network upon them")
	rm := fit.DefaultMemoryRecipe()
	flag.IntVar(&rm.Pairs, "pairs", rm.Pairs, "simulated cars with earlier visits")
	flag.IntVar(&rm.Steps, "steps", rm.Steps, "training steps of the memory network")
	flag.Parse()
	if *groups {
		if err := fit.Tables(rc, *out); err != nil {
			log.Fatal(err)
		}
		return
	}
	if !*memory {
		if err := fit.Networks(rc, *out, os.Stdout); err != nil {
			log.Fatal(err)
		}
	}
	if err := fit.Memory(rm, *out, os.Stdout); err != nil {
		log.Fatal(err)
	}
	fmt.Println("wrote", filepath.Clean(*out))
}
