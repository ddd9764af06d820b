package server

// soilKeyView is the key by which a crew tells soils by hand: questions with answers, and
// what goes with them. The script soil-key.js draws the conclusion.
//
// Sources: ribbon and feel after the texture by feel of the USDA, from memory; shaking and
// threads after ASTM D2488, from memory; grain limits of EN ISO 14688-1 (0.2, 0.63, 2 mm),
// what grains are likened to is common practice, no source; weathered rock after the field
// marks of the ISRM tables.
type soilKeyView struct {
	Heading, Intro, Mark, Take, Close, Open string
	Questions                               []keyQuestion
	Names                                   []linkView // words of each conclusion, by code
}

type keyQuestion struct {
	Name, Words string
	Answers     []choiceView
}

// keyQuestions are the questions with the codes of their answers.
var keyQuestions = []struct {
	name    string
	answers []string
}{
	{"hand", []string{"grains", "floury", "sticky", "lumps", "hard"}},
	{"grain", []string{"pebbles", "coarse", "medium", "fine"}},
	{"ribbon", []string{"none", "short", "long"}},
	{"rock", []string{"crust", "rotten", "cracked", "sound"}},
}

// keyNames are what the key can conclude.
var keyNames = []string{"topsoil", "clay", "silt", "sand-fine", "sand-medium", "sand-coarse", "gravel", "hardpan", "weathered-rock", "fractured-rock", "rock"}

func newSoilKey(p speaker) *soilKeyView {
	k := &soilKeyView{
		Heading: p.Say("soilkey"), Intro: p.Say("soilkey.intro"), Mark: p.Say("soilkey.mark"),
		Take: p.Say("soilkey.take"), Close: p.Say("soilkey.close"), Open: p.Say("soilkey.open"),
	}
	for _, q := range keyQuestions {
		question := keyQuestion{Name: q.name, Words: p.Say("soilkey." + q.name)}
		for _, a := range q.answers {
			question.Answers = append(question.Answers, choiceView{Value: a, Name: p.Say("soilkey." + q.name + "." + a)})
		}
		k.Questions = append(k.Questions, question)
	}
	for _, name := range keyNames {
		k.Names = append(k.Names, linkView{Name: p.Say("class." + name), Href: name})
	}
	return k
}
