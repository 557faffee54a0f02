package main

import (
	"runtime/debug"

	"twoneedles/app"
)

func main() {
	// The page holds two or three megabytes and a keystroke makes one more. By
	// default the collector would start at four, in every second keystroke; at
	// thirty-two it hardly ever meets one.
	debug.SetGCPercent(800)
	app.Run()
}
