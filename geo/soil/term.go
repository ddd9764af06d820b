package soil

// term is a material named in a text, with what is said of it.
type term struct {
	item
	minor  bool // only a part: "with", "traces of"
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
	case rock && t.states[roleSoft] && !t.states[roleHard]:
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

// terms gathers the materials of a text and gives each the words that describe it.
func terms(items []item) []*term {
	var (
		all   []*term
		owner = make([]*term, len(items)) // the term that an item names
		minor bool
	)
	for i, it := range items {
		minor = it.role == roleMinor || minor && !it.begins
		if it.role == roleMain {
			owner[i] = &term{item: it, minor: minor, states: map[string]bool{}}
			all = append(all, owner[i])
		}
	}
	for i, it := range items {
		if t := described(items, owner, i); t != nil {
			t.describe(it)
		}
	}
	return all
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
