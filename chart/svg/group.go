package svg

// Group starts a group of marks that the style sheet treats as one; EndGroup ends
// the last one.
func (c *Canvas) Group(class Class) {
	c.open("g", class)
	c.raw(">")
}

// EndGroup ends the group of the last Group.
func (c *Canvas) EndGroup() { c.raw("</g>") }
