// Package arrival keeps files that people hand in until they are records: [Desk.Receive]
// takes them, [Desk.Match] looks at their columns again with what a person decided,
// [Desk.Read] reads them into a draft, [Desk.Apply] takes the draft into the base, and
// [Desk.TakeBack] takes a whole import out again.
//
// Each arrival is a folder of its own among the drafts of the data folder, so that nothing
// is lost when the program ends. What takes its time is done behind the answers, one
// thing at a time: an [Arrival] tells what is being done, how far it is, and what failed.
//
// It holds no rule of its own on what becomes a record: that is [intake] and [store].
package arrival
