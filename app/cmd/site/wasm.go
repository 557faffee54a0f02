//go:build wasm

package main

import "twoneedles/app"

func main() { app.Run() }
