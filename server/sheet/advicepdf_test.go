package sheet_test

import (
	"bytes"
	"regexp"
	"slices"
	"testing"

	"waterstrike/advisor"
	"waterstrike/geo"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"
)

var leaf = regexp.MustCompile(`/Type /Page\b`)

// Each advice of a document fills one A4 (210 mm x 297 mm, ISO 216: 595.28 pt x 841.89 pt),
// in every language, however much it says; what no sheet holds is refused.
func TestAdvicesFillASheetEach(t *testing.T) {
	brief, long, endless := full(), full(), full()
	brief.Plan, brief.Evidence.Bores = nil, nil
	long.Cautions = slices.Repeat(long.Cautions, 4)
	endless.Cautions = slices.Repeat(endless.Cautions, 400)
	c := catalogue(t)
	for _, l := range say.Langs() {
		var again []byte
		for range 2 {
			doc := sheet.NewAdvicePDF(c, l)
			for i, err := range []error{doc.Add("A", full()), doc.Add("B", brief), doc.Add("", long)} {
				if err != nil {
					t.Errorf("%v, advice %d: %v", l, i, err)
				}
			}
			if err := doc.Add("C", endless); geo.KindOf(err) != geo.Invalid {
				t.Errorf("%v: more than a sheet holds: %v", l, err)
			}
			var out bytes.Buffer
			if err := doc.Write(&out); err != nil {
				t.Fatal(err)
			}
			if n := len(leaf.FindAll(out.Bytes(), -1)); n != 3 || !bytes.Contains(out.Bytes(), []byte("[0 0 595.28 841.89]")) {
				t.Errorf("%v: three advices on %d sheets", l, n)
			}
			if again != nil && !bytes.Equal(again, out.Bytes()) {
				t.Errorf("%v: the same advices give other bytes", l)
			}
			again = out.Bytes()
		}
	}
}

// The building sheet for paper is one of several A4 pages, the same bytes each time, in every
// language; without a plan it is one page that says so.
func TestBuildingForPaper(t *testing.T) {
	c, none := catalogue(t), full()
	none.Plan = nil
	for _, l := range say.Langs() {
		var pdf, again, bare bytes.Buffer
		for out, a := range map[*bytes.Buffer]advisor.Advice{&pdf: full(), &again: full(), &bare: none} {
			if err := sheet.BuildingPDF(out, c, l, a); err != nil {
				t.Fatal(err)
			}
		}
		if n := len(leaf.FindAll(pdf.Bytes(), -1)); n < 2 || !bytes.Equal(pdf.Bytes(), again.Bytes()) {
			t.Errorf("%v: %d pages, or other bytes the second time", l, n)
		}
		if n := len(leaf.FindAll(bare.Bytes(), -1)); n != 1 {
			t.Errorf("%v: %d pages without a plan", l, n)
		}
	}
}
