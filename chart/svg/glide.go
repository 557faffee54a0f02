package svg

// Glide starts a group that was (dx, dy) away from where it is drawn. The
// picture itself does not move: the offsets are left in data-dx and data-dy for
// the page, which may let the group come in from there by Element.animate, in
// units of the view box. (Animation elements inside the picture were tried: the
// browser at hand, Chromium 156, does not run them in a picture that is put into
// the page later.)
func (c *Canvas) Glide(dx, dy float64) {
	c.raw("<g")
	c.attr("data-dx", dx)
	c.attr("data-dy", dy)
	c.raw(">")
}

// EndGlide ends the group of the last Glide.
func (c *Canvas) EndGlide() { c.raw("</g>") }
