// Package variogram describes how likeness between two places fades with the
// distance between them, and estimates that description from data.
//
// A [Model] gives covariance and semivariance at a distance. A [Structure] adds
// up models and a micro-scale variance. [Empirical] measures semivariance in
// distance bins, [FitBins] fits a structure to the bins by weighted least
// squares, and [Fit] estimates one from the values themselves by restricted or full
// maximum likelihood: exact for a few thousand points, by nearest neighbours beyond.
//
// Two different things are called nugget, and they are kept apart here:
//
//   - Micro-scale variance is real variation over distances shorter than any
//     between data. A new bore meets it, so it stays in every prediction
//     variance, and an errorless datum is honoured with a jump. It is part of a
//     [Structure].
//   - Reading error belongs to one datum and not to the ground. It is never part
//     of a model: it is handed over beside the values as a variance per datum,
//     and predictions filter it out.
//
// The package sees points in a projected plane and numbers, never records.
// Anisotropy is handled by changing the points, see [Anisotropy]; Fit can find it.
package variogram
