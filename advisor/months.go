package advisor

import (
	"time"

	"waterstrike/advisor/level"
)

// MonthChance is the chance of a bore that is drilled in one month.
type MonthChance struct {
	Month  time.Month `json:"month"` // 1 is January
	Chance float64    `json:"chance"`
}

// risen are the shares of the yearly range at which the chance is worked out; between them
// it is taken along straight lines.
var risen = [...]float64{0, 0.5, 1}

// byMonth returns a method's chance for each month of drilling, January first; lowest is
// the chance at the dry-season low. Where water stands higher on the day, a method that
// goes so far below water and no farther ends less deep, and its well must serve at the
// low all the same.
func (d *driller) byMonth(grounds []weighed, water level.Distribution, e *draws, lowest float64) []MonthChance {
	at := [len(risen)]float64{lowest}
	for i, share := range risen[1:] {
		tables := make([]*outcomes, len(grounds))
		for g := range grounds {
			tables[g] = d.tabulateOn(&grounds[g].ground, e, func(lowM float64) float64 { return water.Risen(lowM, share) })
		}
		at[i+1] = chanceOf(d, tables, e).Chance
	}
	var out []MonthChance
	for m := time.January; m <= time.December; m++ {
		steps := min(max(water.Rise(m), 0), 1) * float64(len(risen)-1)
		i := min(int(steps), len(risen)-2)
		out = append(out, MonthChance{m, at[i] + (steps-float64(i))*(at[i+1]-at[i])})
	}
	return out
}
