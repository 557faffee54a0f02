// Package jobs is the list of the jobs on this device: search, open, copy, delete with a
// way back; the file of everything, and files that come in.
//
// Reading order:
//
//	jobs.go   the list
//	files.go  files out and in
//	record.go what the confirmed jobs say of the answers
package jobs
