// Takes the place of a file of go-app and has its type: see the licence in resource.go.

// Package app holds stand-ins for files of go-app that the page never runs. They
// take the place of the files of the same name in the build for the browser, where
// the originals would link an HTTP server and client, TLS and X.509 into the
// program: 0.46 MB of its 1.88 MB gzipped. Package site says how and checks that
// the originals are the ones these were written against.
package app

// Handler is go-app's server; this site has none.
type Handler struct{}
