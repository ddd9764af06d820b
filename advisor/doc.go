// Package advisor joins what is known of water, layers and methods at one point into an
// advice: a chance for each method with its range, what fails first, how deep the water
// stands, which layers to expect, how to drill, what to beware of, and which bores all of
// it rests on.
//
// One advice flows one way: evidence snapshot -> level and layers -> an ensemble of
// possible grounds -> chance and reasons -> plan -> [Advice]. Everything in an Advice is a
// number or a code; faces turn it into sentences.
//
// The same snapshot, question and seed give the same advice to the last byte.
package advisor
