package soil

import (
	"regexp"
	"strconv"
	"strings"
)

// spellOut writes signs and figures that carry meaning as words of the vocabulary.
func spellOut(text string) string {
	return thicknessToWords(sharesToWords(lettersToWord(text)))
}

var (
	twoLetters = regexp.MustCompile(`(^|[^\pL./])(\pL)[./](\pL)\.?($|[^\pL./])`)
	withStroke = regexp.MustCompile(`(?i)\bw/(\s|$)`)
)

// lettersToWord makes one word of two letters apart by a stroke or dots ("w/b", "q.v.")
// and writes "w/" as with.
func lettersToWord(text string) string {
	if !strings.ContainsAny(text, "./") {
		return text
	}
	return withStroke.ReplaceAllString(twoLetters.ReplaceAllString(text, "$1$2$3$4"), " with ")
}

// The words that stand for a share of less than half, and of half or more.
const (
	partWord = " some "
	mostWord = " mainly "
)

var share = regexp.MustCompile(`(?:\d+(?:[.,]\d+)?\s*(?:-|–|to|à|a)\s*)?(\d{1,3})(?:[.,]\d+)?\s*%`)

// sharesToWords writes "10% sand" as "some sand". Where the share stands after its
// material ("clay 60%, sand 40%") nothing is changed: the order of the words decides.
func sharesToWords(text string) string {
	if !strings.Contains(text, "%") || strings.HasSuffix(strings.TrimRight(text, " .,;)"), "%") {
		return text
	}
	return share.ReplaceAllStringFunc(text, func(found string) string {
		percent, err := strconv.Atoi(share.FindStringSubmatch(found)[1])
		if err == nil && percent >= 50 {
			return mostWord
		}
		return partWord
	})
}

var thickness = regexp.MustCompile(`(?i)(?:^|[,;.&+]|\band|\bet|\be|\bthen|\bpuis)\s*(\d+(?:[.,]\d+)?)\s*(?:m|ft|feet|pieds)\s+(?:of\s+|de\s+|d')?\pL`)

// thicknessToWords marks the thickest of several materials that stand with their own
// thickness in one line: "1 m soil, 4 m clay" is mainly clay.
func thicknessToWords(text string) string {
	found := thickness.FindAllStringSubmatchIndex(text, -1)
	if len(found) < 2 {
		return text
	}
	thickest, at := 0.0, 0
	for _, m := range found {
		v, err := strconv.ParseFloat(strings.Replace(text[m[2]:m[3]], ",", ".", 1), 64)
		if err == nil && v > thickest {
			thickest, at = v, m[2]
		}
	}
	return text[:at] + mostWord + text[at:]
}
