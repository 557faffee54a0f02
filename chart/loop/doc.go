// Package loop draws the refrigerant's way round: what is read where, what sound cars show
// there, and which parts are suspect. It is a scheme without axes, hence a package beside
// the pictures of package chart, whose words, writer and limits it takes; the tests of that
// package draw it with all the others.
package loop
