// Package reftest is help for the tests of all packages: comparing numbers with
// a tolerance that says its reason, reading reference tables, and golden files.
package reftest
