package demoland

import (
	"math"
	"math/rand/v2"
)

// gridM is the spacing of the points that look for land without a stream.
const gridM = 1500.0

// gap is a point of that grid and the nearest spot of the network.
type gap struct {
	at          pt
	d           float64
	river, node int
	given       bool // up: no stream can reach it
}

// fillGaps lets streams grow towards the emptiest land until none lies farther than
// widestM from a stream, or from the shore.
func (l *Land) fillGaps(r *rand.Rand, widestM, branchM float64) {
	gaps := l.gaps()
	for range 400 {
		worst := &gaps[0]
		for i := range gaps {
			if g := &gaps[i]; !g.given && (worst.given || g.d > worst.d) {
				worst = g
			}
		}
		if worst.given || worst.d < widestM {
			return
		}
		count := len(l.rivers)
		l.grow(r, l.towards(*worst, branchM), 1500)
		worst.given = true
		if len(l.rivers) > count {
			for i := range gaps {
				gaps[i].meet(l.rivers[count], count)
			}
			worst.given = worst.d > 0.8*widestM
		}
	}
}

// gaps is the grid over all land, each point with its nearest stream.
func (l *Land) gaps() []gap {
	var out []gap
	for u := -halfM - marginM + gridM; u < halfM+marginM; u += gridM {
		for v := -halfM; v < halfM+marginM; v += gridM {
			g := gap{at: pt{u, v}, d: v - l.shoreV(u)}
			if g.d < 0 {
				continue
			}
			g.d *= 2 // land near the shore needs streams less
			g.river = -1
			for i := range l.rivers {
				g.meet(l.rivers[i], i)
			}
			if g.river >= 0 {
				out = append(out, g)
			}
		}
	}
	return out
}

func (g *gap) meet(r river, index int) {
	for k := range len(r.nodes) - 1 {
		if d := g.at.minus(r.nodes[k]).length(); d < g.d {
			g.d, g.river, g.node = d, index, k
		}
	}
}

// towards is a stream from the nearest one to the gap.
func (l *Land) towards(g gap, branchM float64) spring {
	host := &l.rivers[g.river]
	to := g.at.minus(host.nodes[g.node])
	s := l.spring(g.river, g.node, headwater)
	if g.d > branchM && host.order != headwater {
		s = l.spring(g.river, g.node, branch)
	}
	s.angle = math.Atan2(to.v, to.u)
	s.lengthM = g.d + 1000
	return s
}
