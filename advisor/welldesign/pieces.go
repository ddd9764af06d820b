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
			length := cut(base-top, r.Pipe.Piece.Value)
			out = append(out, Piece{p.Kind, length, tenth(base - length), base})
			base = tenth(base - length)
		}
	}
	return out
}

// stubM is shorter than any piece should be that two joints hold; common practice.
const stubM = 0.5

// cut is the next length of what is left: a whole piece, or half of what is left where a
// stub would follow.
func cut(leftM, pieceM float64) float64 {
	if over := leftM - pieceM; over > slackM && over < stubM-slackM {
		return tenth(leftM / 2)
	}
	return tenth(min(pieceM, leftM))
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
