// Package livehole answers beside an open hole: what comes next, where water will be met,
// what each method may still bring, whether the next metres are worth their cost.
//
// The answer is a pure function of two small JSON objects. A [Pack] is made once in the
// office for one site and holds all that the records say of it, in at most [PackBytes]; a
// [Log] is what the hole has shown so far. [Pack.Answer] needs nothing else, so that a
// phone without a network computes the same: ui/static/js/hole does, line by line, and
// the vectors of testdata/livehole hold both to 1e-9.
//
// # What is computed
//
//  1. The pack's columns are a mixture of chains of half-metre cells: the logs close by as
//     they were found, each continued by the local chain, and the local chain alone, all of
//     them weighed as the office's statement of layers is. The water is a set of levels of
//     equal chance. For each chain and level the forward pass
//     gives how likely they made what was seen (names through the confusion of field
//     classification, minutes per metre, where water came in or did not, the level read),
//     and the odds of the ground at the bottom: [Pack.Answer] begins there.
//  2. Below the bottom the chains are pooled, for each level, into the one chain that has
//     the odds and the pairs of neighbouring cells of the mixture, but for steps that are
//     hardly ever taken.
//  3. A member is a level and a band of conductivity; the conductivity of a class goes with
//     depth, as the grades that logs around describe do. For each member and method a dynamic
//     program runs down the cells with the state: class, slow ground crossed, water met,
//     bin of the transmissivity of the body that a screen could stand in. It is exact for
//     the member: nothing is drawn. Success is absorbing: enough transmissivity for the
//     pump below the low of the worst year in ten, with the sump drilled below it.
//  4. The flows of all members together, by cell, class and whether water was met, make a
//     small chain of what a crew can see; the best time to stop follows on it by the same
//     recursion, backwards. A success is worth what it costs at the next site: [Costs].
//
// Numbers without a source of their own are common practice; they stand in the pack, so
// that a programme may change them.
package livehole
