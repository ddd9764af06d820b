// Package store keeps the knowledge base: one SQLite file that is a valid OGC GeoPackage
// (OGC 12-128, version 1.3), so that any GIS opens it while the program runs. It holds
// the only SQL for ground data.
//
// [Create] and [Open] give a [Base]. Reading: [Base.Bores] and its siblings. Writing one
// record: [Base.SaveBore] and its siblings. Importing: [NewDraft], then [Base.Apply], and
// [Base.TakeBack] if it was a mistake. What was there before: [Base.History],
// [Base.Undo], [Base.Hide], [Base.Restore]. Keeping it safe: [Base.Backup],
// [RestoreBackup].
//
// Every change of a record is written down by SQL triggers with a rising sequence, also
// when another program makes it. Deleting hides: what was deleted can be restored.
//
// A Base is safe for concurrent use, and several programs may use one file together.
package store
