//go:build !wasm

// Command site builds the static site and serves it.
//
//	go run ./app/cmd/site build -out dist
//	go run ./app/cmd/site serve -dir dist -addr localhost:8080
//	go run ./app/cmd/site size  -dir dist
//
// Compiled for the browser (GOOS=js GOARCH=wasm) the same command is the page
// itself: see main_wasm.go.
package main

import (
	"errors"
	"flag"
	"fmt"
	"net"
	"net/http"
	"os"
	"path/filepath"

	"twoneedles/app/site"
)

const usage = `usage:
  site build [-out dist] [-tight]                  compile the program and write the site; tight for a release
  site serve [-dir dist] [-addr localhost:8080]    serve it; takes a free port when that one is taken
  site size  [-dir dist]                           say what the site weighs and why`

func main() {
	if err := command(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func command(args []string) error {
	if len(args) == 0 {
		return errors.New(usage)
	}
	flags := flag.NewFlagSet(args[0], flag.ExitOnError)
	switch args[0] {
	case "build":
		out := flags.String("out", "dist", "folder of the site")
		tight := flags.Bool("tight", false, "pack the program as small as can be, which takes a minute")
		flags.Parse(args[1:])
		return build(*out, *tight)
	case "serve":
		dir := flags.String("dir", "dist", "folder of the site")
		addr := flags.String("addr", "localhost:8080", "address to listen on")
		flags.Parse(args[1:])
		return serve(*dir, *addr)
	case "size":
		dir := flags.String("dir", "dist", "folder of the site")
		flags.Parse(args[1:])
		return size(*dir)
	}
	return errors.New(usage)
}

func build(out string, tight bool) error {
	root, err := site.Root()
	if err != nil {
		return err
	}
	version, err := site.Build(root, out, tight)
	if err != nil {
		return err
	}
	fmt.Printf("%s: version %s\n", out, version)
	return nil
}

func serve(dir, addr string) error {
	if _, err := os.Stat(filepath.Join(dir, "index.html")); err != nil {
		return fmt.Errorf("no site in %s: run make build first", dir)
	}
	listener, err := net.Listen("tcp", addr)
	if err != nil {
		host, _, splitErr := net.SplitHostPort(addr)
		if splitErr != nil {
			return err
		}
		fmt.Printf("%s is taken; taking a free port\n", addr)
		if listener, err = net.Listen("tcp", net.JoinHostPort(host, "0")); err != nil {
			return err
		}
	}
	// An empty page says little to who has no gauges at hand.
	fmt.Printf("Two Needles is at http://%[1]s/#example with example readings, at http://%[1]s/ empty (end with Ctrl-C)\n", listener.Addr())
	return http.Serve(listener, site.Handler(os.DirFS(dir)))
}

func size(dir string) error {
	root, err := site.Root()
	if err != nil {
		return err
	}
	named, err := site.Compile(root, site.Named)
	if err != nil {
		return err
	}
	return site.WriteSizes(os.Stdout, os.DirFS(dir), named)
}
