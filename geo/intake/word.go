package intake

import (
	"slices"
	"strings"
)

// Words that stand where a number or a yes is expected, lower case.
var (
	flowingWords = []string{
		"artesian", "artésien", "artesien", "artesiano", "flowing", "flows", "overflowing", "overflow",
		"jaillissant", "surgente", "jorrante", "repuxo",
	}
	dryWords   = []string{"dry", "dry hole", "no water", "sec", "à sec", "a sec", "pas d'eau", "seco", "sem água", "sem agua"}
	neverWords = []string{"never", "none", "jamais", "aucun", "nunca", "nenhum"}
	yesWords   = []string{"yes", "y", "true", "1", "oui", "vrai", "sim", "verdadeiro", "functional", "working"}
	noWords    = []string{"no", "n", "false", "0", "non", "faux", "não", "nao", "falso", "not functional", "broken"}
)

func isOneOf(text string, words []string) bool {
	return slices.Contains(words, strings.ToLower(strings.TrimSpace(text)))
}
