// Package draw makes the drawings of the program: soil columns, sections, maps, and the
// plots of what was said against what was found.
//
// A drawing is a [Scene] of plain shapes in millimetres of paper, so that the same
// scene can be written as SVG for the screen and in other forms for paper.
// [Column], [Section], [Map] and the plots ([Scatter], [Reliability], [Histogram],
// [Misses], [Curves], [Profile]) build scenes from plain numbers and words; they know
// nothing of bores or advice. All words come from the caller, in the reader's language.
//
// A soil class is told by its pattern as well as by its colour, an outcome by its
// shape as well as by its colour, a water level by its dash: a drawing still reads in
// greyscale and to colour-blind people. The patterns follow the public conventions of
// geological maps (dots for sand, dashes for clay, circles for gravel); the colours are
// our own.
package draw
