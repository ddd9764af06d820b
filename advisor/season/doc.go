// Package season turns the records of a base into the season's question and into the
// account of what was achieved: which villages are without water, which spots about them
// could be drilled, what an attempt would cost, and which programme serves most people for
// the money; and who has water on a day, what the bores came to, what they cost. It reads
// records and the advisor, and leaves choosing to advisor/programme and counting to
// advisor/coverage.
//
// A bore that produced is a water point of its own, found working on the day of its
// completion, unless a point in the records stands where it was drilled: then the bore
// tells when that point was built, what it yields and how its water was tested.
package season
