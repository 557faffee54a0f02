// Package learn is the place to learn: the patterns of two needles for the car at
// hand, every condition with its page, how the answer is made and what it cannot know,
// and last where every number comes from.
//
// At the address of the sources, where citations lead, they stand alone.
package learn
