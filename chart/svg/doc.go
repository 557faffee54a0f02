// Package svg draws. It knows axes, lines, bands, marks and words, and nothing of
// cars: package chart decides what a picture says, this one puts it on paper.
//
// A [Canvas] writes one accessible SVG element: role, title, description,
// classes instead of colours (static/css/chart.css owns the look, so that dark,
// print and high contrast need no new drawing), text escaped, and no number
// that is not finite or that lies outside the view box. A [Plot] is a pair of
// axes on a canvas; axes, curves and bands are drawn by go-chart, which this
// package alone imports, through a [Canvas] in the place of its own renderer.
//
// Why not go-chart's renderer, nor its Chart: a stock render costs 13 ms in
// WebAssembly, nearly all of it reading a font to measure labels, and writes
// neither escaped text nor a role. Its axes and series drawn into our canvas
// cost hundredths of a millisecond, and as nothing here mentions its Chart type,
// the linker leaves the font out: on a bare go-app page of 1.400 MB (brotli)
// Chart adds 0.242 MB, axes and series alone 0.067 MB, most of that an image
// decoder that go-chart registers. Whole pictures with sentence and table take
// 0.4 to 1.8 ms of processor time in WebAssembly (chart.BenchmarkFigures on a
// busy two-core machine, Node 20, Go 1.26).
package svg
