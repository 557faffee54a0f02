// Package catalogue holds what a person can read about each condition (pages, one
// Markdown file each, parsed strictly) and the published ranges of normal
// pressures. It computes nothing.
//
// To start a condition: make new-fault ID=name.
package catalogue
