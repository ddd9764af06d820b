package demoland

import (
	"math/rand/v2"
	"strings"
)

// Syllables of names: the middle ones begin with clusters that keep the names from
// being those of real places.
var (
	firstParts  = []string{"Ba", "Bo", "De", "Du", "Fe", "Ga", "Gu", "Ki", "La", "Lo", "Ma", "Mi", "Ne", "No", "Pa", "Pi", "Ra", "Ro", "Sa", "Se", "Ta", "To", "Ve", "Vo", "Ze", "Zu"}
	middleParts = []string{"bzo", "dlu", "dve", "gzi", "kvo", "lzu", "mza", "nvu", "pto", "rvi", "rzo", "svu", "tlo", "tva", "vlo", "vri", "zde", "zlu", "zmo", "znu"}
	lastParts   = []string{"ba", "del", "do", "fin", "ga", "lan", "len", "lo", "mar", "mei", "na", "nel", "ra", "ril", "ro", "sa", "ta", "tem", "va", "zin"}
)

// namer draws names that do not repeat.
type namer struct {
	r    *rand.Rand
	used map[string]bool
}

func newNamer(r *rand.Rand) *namer { return &namer{r, map[string]bool{}} }

func (n *namer) draw() string {
	for {
		name := pick(n.r, firstParts) + pick(n.r, middleParts) + pick(n.r, lastParts)
		if !n.used[strings.ToLower(name)] {
			n.used[strings.ToLower(name)] = true
			return name
		}
	}
}

func pick[T any](r *rand.Rand, from []T) T { return from[r.IntN(len(from))] }
