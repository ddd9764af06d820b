// Package krige predicts a value at a point from values at other points, with the
// variance of the prediction.
//
// A [Solver] takes the neighbours as given: Fit factors their covariances once,
// Predict answers for one target after another, Solve does both for one target.
// [Local] finds the nearest data itself, in all directions if asked, for surfaces. The variants of kriging
// differ only in their [Trend]: [Simple], [Ordinary], [Universal].
//
// Every datum may carry the variance of its own reading error. It goes on the
// diagonal and is filtered out: predictions are of the ground, not of a new
// reading. The model's micro-scale variance is real and stays in.
//
// The package sees points in a projected plane and numbers, never records.
// Nothing is added to a matrix in secret: what cannot be solved is an error with its
// condition number. What to do about it is said, not guessed: [Merge] makes one of data
// at one place, [Universal.Sparing] does without a drift that cannot be told.
package krige
