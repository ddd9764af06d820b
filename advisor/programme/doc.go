// Package programme chooses which villages to drill in, at which spot, by which method, in
// which part of the season, so that a budget of money and crew-weeks gives water to the
// most people. It sees people, chances and prices, never a record, a table or a page.
//
// # What is chosen
//
// For each village one [column] or none: a first attempt (a spot with a method), with or
// without a second one that is made only if the first fails, or two attempts where one
// point cannot serve all; in one window of the season. The programme maximises
//
//	(1-κ) E[people newly served] + κ CVaR₂₀[people newly served]
//
// over the scenarios, κ the caution of the rules and CVaR₂₀ the mean of the worst fifth,
// subject to money, crew-weeks in each window, floors of the districts and villages that
// must or must never be in. The first village of a round that is drilled in a window pays
// for the trip there, the others share it.
//
// Scenarios are pictures of the whole region, each equally likely: in each the ground is
// one, so neighbouring villages fail together. Within a scenario attempts at different
// spots are independent and two methods at one spot are as alike as their chances allow.
//
// # How it is solved
//
// Money, weeks and floors are priced (Lagrangian relaxation): at any prices each round of
// villages can be decided alone and exactly, and the sum is a bound that no programme can
// exceed. Prices are moved by subgradient steps, then by the ellipsoid method, until the
// bound is low. What the prices choose is repaired into a programme that fits, improved by
// exchanges of one village and of two for two, and the distance to the bound is closed by branch and bound, best bound first,
// dropping for good each column whose price shows that no better programme holds it. The
// worst fifth is priced in the same way: its dual is the choice of the scenarios' weights
// that is worst for the programme (Rockafellar and Uryasev 2000).
//
// The effort is counted, not timed, so the same problem gives the same programme. The
// bound reached is part of the answer.
package programme
