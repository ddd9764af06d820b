package welldesign

import (
	"math"

	"waterstrike/geo"
)

// Piece is one length of the string of pipe.
type Piece struct {
	Kind    geo.PipeKind `json:"kind"`
	LengthM float64      `json:"lengthM"`
	TopM    float64      `json:"topM"` // once it is landed; negative above ground
	BaseM   float64      `json:"baseM"`
}

// Pieces cuts the string into lengths as they are sold, from the bottom up as it is
// lowered: the plug first, the last one standing out of the ground.
func Pieces(w Well, r *Rules) []Piece {
	var out []Piece
	for i := len(w.Pipes) - 1; i >= 0; i-- {
		p := w.Pipes[i]
		top := p.TopM
		if i == 0 {
			top = -r.Pipe.StickUp.Value
		}
		for base := p.BaseM; base > top+slackM; {
			length := tenth(min(r.Pipe.Piece.Value, base-top))
			out = append(out, Piece{p.Kind, length, tenth(base - length), base})
			base = tenth(base - length)
		}
	}
	return out
}

// stock is how many lengths are bought for pieces of a kind: blank pipe for casing and plug
// is cut from the same.
func stock(pieces []Piece, r *Rules, kinds ...geo.PipeKind) float64 {
	metres := 0.0
	for _, p := range pieces {
		for _, kind := range kinds {
			if p.Kind == kind {
				metres += p.LengthM
			}
		}
	}
	return math.Ceil(metres/r.Pipe.Piece.Value - slackM)
}
