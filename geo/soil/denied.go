package soil

// undenied leaves out what the words say is not there: "no sand", "sans argile", "not
// hard". A denial reaches over the materials that follow it ("no sand or gravel") up to
// the next punctuation or turn of the sentence.
func undenied(items []item) []item {
	out := make([]item, 0, len(items))
	for i := 0; i < len(items); i++ {
		if items[i].role != roleNegation {
			out = append(out, items[i])
			continue
		}
		for i+1 < len(items) && deniable(items, i+1) {
			i++
		}
	}
	return out
}

// deniable reports whether a denial reaches item i: words of the material itself, or the
// one word after the "not".
func deniable(items []item, i int) bool {
	if items[i].begins {
		return false
	}
	switch items[i].role {
	case roleMain, roleAdjective, roleClayey, roleGrade, roleWater, roleColour, roleIgnore:
		return true
	case roleMinor, roleMostly, roleNegation:
		return false
	}
	return items[i-1].role == roleNegation
}
