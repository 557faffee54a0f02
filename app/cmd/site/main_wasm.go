package main

import "twoneedles/app"

func main() { app.Run() }
