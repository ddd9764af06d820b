// Package hydraulics turns readings of a pumped, bailed or slugged well into what the
// ground can give, and what the ground can give into the fall of the water in a well.
//
// Forward solutions stand one a file: [Thiem], [Dupuit], [Theis], [CooperJacob],
// [Recovery], [StoredWell] for wells whose own water matters, and [Drawdown] for the duty
// of a hand pump. Each is turned round by a fit of its own: [FitThiem], [FitTheis],
// [FitCooperJacob], [FitRecovery], [FitDistance], [FitSlug], [FitSteps], [FitBailer],
// and by [SpecificCapacity] and [Logan] where all that was written down is one number.
// [Learn] carries a region's tests into its conductivities.
//
// Lengths are metres, times days, discharges m³/d, transmissivities m²/d. A fit never
// gives a number without its range, and its range is never narrower than what the choice
// of method alone does to the answer: see [Estimate].
package hydraulics
