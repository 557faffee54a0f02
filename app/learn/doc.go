// Package learn is the place to learn: the patterns of two needles for the car at
// hand, every condition with its page, how the answer is made and what it cannot know,
// and last where every number comes from.
//
// The address of the sources leads here too and to their place in it.
package learn
