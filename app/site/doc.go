// Package site turns the program and the files of static/ into a folder that any
// web host can serve as it is, under any path: no server code, no compression, no
// redirects are asked of the host.
//
// [Compile] builds the program for the browser, [Licences] collects the notices that
// must go along with it, [Assemble] writes the folder,
// [Handler] serves it the way the plainest host would, [WriteSizes] says what it weighs.
// Nothing here is linked into the program for the browser.
//
// The same inputs give the same bytes: no time, no path and no commit goes in.
// The version is a hash of the contents, so an unchanged site is never an update.
package site
