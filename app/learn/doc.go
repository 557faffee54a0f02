// Package learn is the place to learn: the patterns of two needles for the car at
// hand, the loop with what is read where on a sound one, every condition with its page,
// how the answer is made and what it cannot know, and last where every number comes from.
//
// At the address of the sources, where citations lead, they stand alone.
package learn
