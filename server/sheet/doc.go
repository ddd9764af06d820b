// Package sheet turns an advice, a bore or a section into what people and programs read:
// a page for a terminal, the parts of a web page with their drawings, and JSON.
//
// [New] says an advice in one language once; [Sheet.Text] and [NewPage] only lay out what
// it says, so that all faces tell the same. Sentences come from the catalogue of ui/say,
// drawings from ui/draw. A part without evidence is there with a sentence that says so.
package sheet
