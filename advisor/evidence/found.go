package evidence

import "waterstrike/geo"

// HasWater reports that samples of a bore's water could be judged.
func HasWater(b *Bore) bool { return len(b.Water) > 0 }

// foundIn judges the samples of a bore. Of several results of one analyte the worst counts.
func foundIn(samples []geo.Sample) (out []Found) {
	at := map[string]int{}
	for _, s := range samples {
		a, _, known := geo.FindAnalyte(s.Analyte)
		verdict, limit := geo.Judge(s)
		if !known || verdict == geo.NotKnown {
			continue
		}
		i, seen := at[a.Code]
		if !seen {
			i = len(out)
			at[a.Code], out = i, append(out, Found{Analyte: a.Code, Limit: limit.Kind})
		}
		out[i].Over = out[i].Over || verdict != geo.Within
	}
	return out
}
