package soil

// term is a material named in a text, with what is said of it.
type term struct {
	item
	minor  bool // only a part: "with", "traces of"
	most   bool // named as the main one: "mainly", "bands in"
	states map[string]bool
	grades []Grade
}

// class returns the class of the material in its state. Decay weighs more than cracks,
// and cracks more than hardness: what a chisel breaks is told by the softest word.
func (t term) class() Class {
	c := t.entry.class
	if (t.states[roleHard] || t.states[roleCemented]) && t.hard != Unknown {
		c = t.hard
	}
	rock := c == Rock || c == FracturedRock
	switch {
	case t.states[roleCemented] && (c == Sand || c == Gravel):
		return Hardpan
	case rock && t.states[roleWeathered]:
		return WeatheredRock
	case rock && t.states[roleFractured]:
		return FracturedRock
	case c == Rock && t.states[roleSoft] && !t.states[roleHard]: // loose boulders stop a bit all the same
		return WeatheredRock
	}
	return c
}

// grade is the middle of the grades named, the finer one when two share the middle: a
// sand gives water through its fines.
func (t term) gradeOf() Grade {
	if len(t.grades) == 0 {
		return t.entry.grade
	}
	lo, hi := t.grades[0], t.grades[0]
	for _, g := range t.grades {
		lo, hi = min(lo, g), max(hi, g)
	}
	return (lo + hi) / 2
}

// terms gathers the materials of a text and gives each the words that describe it. Where
// no material is named the adjectives stand for theirs ("sandy"), with doubt.
func terms(items []item) []*term {
	all, owner := owners(items, roleMain)
	if len(all) == 0 {
		all, owner = owners(items, roleAdjective)
		for _, t := range all {
			t.sure *= adjectiveFactor
		}
	}
	for i, it := range items {
		if t := described(items, owner, i); t != nil {
			t.describe(it)
		}
	}
	return all
}

// owners makes a term of every item of a role; owner holds the term that an item names.
func owners(items []item, role string) (all, owner []*term) {
	owner = make([]*term, len(items))
	minor, most := false, false
	for i, it := range items {
		minor = it.role == roleMinor || minor && !it.begins && it.role != roleMostly
		most = it.role == roleMostly || most && !it.begins
		if it.role == role {
			owner[i] = &term{item: it, minor: minor, most: most && !minor, states: map[string]bool{}}
			all = append(all, owner[i])
			most = false
		}
	}
	return all, owner
}

func (t *term) describe(it item) {
	switch it.role {
	case roleGrade:
		t.grades = append(t.grades, it.grade)
	case roleWeathered, roleFractured, roleHard, roleSoft, roleCemented:
		t.states[it.role] = true
	}
}

// described finds the material that item i speaks of: the one before it or else the one
// after it in its own stretch of words, then the same across the whole text.
func described(items []item, owner []*term, i int) *term {
	lo, hi := i, i+1
	for lo > 0 && !starts(items[lo]) {
		lo--
	}
	for hi < len(items) && !starts(items[hi]) {
		hi++
	}
	if t := nearest(owner[lo:hi], i-lo); t != nil {
		return t
	}
	return nearest(owner, i)
}

func starts(it item) bool { return it.begins || it.role == roleMinor }

func nearest(owner []*term, i int) *term {
	for k := i; k >= 0; k-- {
		if owner[k] != nil {
			return owner[k]
		}
	}
	for k := i; k < len(owner); k++ {
		if owner[k] != nil {
			return owner[k]
		}
	}
	return nil
}
