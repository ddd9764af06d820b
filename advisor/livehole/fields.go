package livehole

import _ "embed"

//go:embed fields.md
var fields string

// Fields returns the description of every field of pack, log and answer, as Markdown.
func Fields() string { return fields }
