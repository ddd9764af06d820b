package intake_test

import (
	"context"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/intake"
)

// Words for what came of a bore, in three languages; general usage of drillers' reports,
// no outside list is known. A plain failure keeps no reason; where the words give one, it
// stands.
var outcomeWords = map[geo.Outcome][]string{
	geo.Producing: {"Successful", "positif", "bem sucedido"},
	geo.Failed: {
		"Not suitable", "unsuccessful", "failed", "Abandoned", "négatif", "NEGATIF", "échec", "echec", "não sucedido", "insucesso",
		"abandonné", "abandonado", "No",
	},
	geo.Dry:       {"seco", "à sec", "failed - dry", "Unsuccessful (no water)", "négatif, sec", "insucesso: seco"},
	geo.Collapsed: {"abandoned due to collapse", "collapsed", "échec par éboulement"},
	geo.LowYield:  {"failed, low yield", "négatif (débit insuffisant)"},
	geo.BadWater:  {"abandoned: salty", "água salobra"},
	geo.Refused:   {"failed: hard rock", "refus"},
}

func TestOutcomeWords(t *testing.T) {
	for want, words := range outcomeWords {
		for _, word := range words {
			rows := "no,lon,lat,depth (m),result\n" + strings.Repeat("1,0.1,0.2,12,\""+word+"\"\n", 2)
			m, _ := propose(t, "a.csv", rows)
			bag, _ := readAll(t, saved(t, m), files("a.csv", rows))
			if len(bag.Bores) == 0 || bag.Bores[0].Outcome != want {
				t.Errorf("%q: %+v, want %s", word, bag.Bores, want)
			}
		}
	}
	m, r := propose(t, "a.csv", "no,lon,lat,depth (m),result\n1,0.1,0.2,12,failed\n2,0.1,0.3,12,failed with the elders\n")
	if c := columnOf(t, r, "result"); len(c.Notes) != 1 || len(m.Tables[0].Fields["outcome"].Values) != 1 {
		t.Errorf("words nobody knows are left to a person: %+v", c)
	}
}

// The bores that a real data set says were not suitable come in as failures: the counts are
// those of the file's own column.
func TestFailuresComeInAsFailures(t *testing.T) {
	from := os.DirFS(shared(t, "malawi_drilling"))
	var bag intake.Memory
	m := mapping(t, filepath.Join("..", "..", "testdata", "mappings", "malawi-drilling.json"))
	if _, err := intake.Read(context.Background(), m, from, &bag, nil); err != nil {
		t.Fatal(err)
	}
	got := map[geo.Outcome]int{}
	for _, b := range bag.Bores {
		if b.Source.File == "drillingdata.csv" {
			got[b.Outcome]++
		}
	}
	want := map[geo.Outcome]int{geo.Producing: 87, geo.Failed: 61, geo.OutcomeUnknown: 4}
	if !maps.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}
