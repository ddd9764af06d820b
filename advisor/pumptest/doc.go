// Package pumptest reads what a crew wrote beside a pumped, stopped, stepped or slugged well
// and says by every way that the readings allow what the ground is, each with its range.
//
// [Read] takes one text: lines such as "discharge: 788 m3/d", then a table with a head, in
// which every number has a unit. [Sheet.Answer] fits it through advisor/hydraulics. Nothing
// is guessed: a column or value without its unit is refused with what to write.
package pumptest
