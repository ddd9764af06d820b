package intake_test

import (
	"fmt"
	"strings"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/intake"
)

const laboratory = `{"name": "n", "dataset": "d", "tables": [
  {"file": "b.csv", "kind": "bores", "key": ["no"], "fields": {"code": {"column": "no"}}},
  {"file": "q.csv", "kind": "samples", "key": ["no"], "fields": {"analyte": {"column": "what"}, "value": {"column": "v"},
    "unit": {"column": "u"}, "basis": {"column": "basis"}, "limit": {"column": "dl"}}}]}`

func resultsOf(t *testing.T, mapping, header, rows string) ([]geo.Sample, *intake.Memory) {
	t.Helper()
	bag, _ := readAll(t, load(t, mapping), files("b.csv", "no\n1\n", "q.csv", header+"\n"+rows))
	b, _ := bag.Bore("1")
	return b.Samples, bag
}

// Ways in which laboratories write results (common practice, no source).
func TestReadResults(t *testing.T) {
	value, limit := geo.Some[float64], geo.Some[float64]
	for row, want := range map[string]geo.Sample{
		"As,0.02,mg/L,,":             {Analyte: "arsenic", Unit: "mg/L", Value: value(0.02)},
		"Arsénio,12 µg/L,,,":         {Analyte: "arsenic", Unit: "ug/L", Value: value(12)},
		"arsenic,12 ppb,mg/L,,":      {Analyte: "arsenic", Unit: "ug/L", Value: value(12)},
		"arsenic,<0.01,mg/L,,":       {Analyte: "arsenic", Unit: "mg/L", DetectionLimit: limit(0.01)},
		"arsenic,< 5 ug/L,,,":        {Analyte: "arsenic", Unit: "ug/L", DetectionLimit: limit(5)},
		"arsenic,ND,ug/L,,2":         {Analyte: "arsenic", Unit: "ug/L", DetectionLimit: limit(2)},
		"NO3-N,3,mg/L,,":             {Analyte: "nitrate", Basis: "N", Unit: "mg/L", Value: value(3)},
		"Nitrates,3,mg/L,N,":         {Analyte: "nitrate", Basis: "N", Unit: "mg/L", Value: value(3)},
		"nitrate,3 mg/L as NO3,,,":   {Analyte: "nitrate", Basis: "NO3", Unit: "mg/L", Value: value(3)},
		"Conductivité,1.2,mS/cm,,":   {Analyte: "ec", Unit: "mS/cm", Value: value(1.2)},
		"E. coli,ND,CFU/100 mL,,":    {Analyte: "e-coli", Unit: "CFU/100mL", DetectionLimit: limit(1)},
		"e-coli,TNTC,,,":             {Analyte: "e-coli", Unit: "CFU/100mL", Value: value(200)},
		"e-coli,3 /100 mL,,,":        {Analyte: "e-coli", Unit: "CFU/100mL", Value: value(3)},
		"e-coli,>100,UFC/100ml,,":    {Analyte: "e-coli", Unit: "CFU/100mL", Value: value(100)},
		"pH,6.9,,,":                  {Analyte: "ph", Unit: "[pH]", Value: value(6.9)},
		"Fluoreto,1.6,mg/l,,":        {Analyte: "fluoride", Unit: "mg/L", Value: value(1.6)},
		"Coliformes fécaux,0,/100mL": {Analyte: "thermotolerant-coliforms", Unit: "CFU/100mL", Value: value(0)},
	} {
		got, bag := resultsOf(t, laboratory, "no,what,v,u,basis,dl", "1,"+row+"\n")
		if len(got) != 1 || got[0] != want {
			t.Errorf("%s: %+v %+v, want %+v", row, got, bag.Issues, want)
		}
	}
}

// What an export says of a bottle comes back: a result below detection with its limit alone,
// and who answers for doing without a test.
func TestReadResultsWithoutAValue(t *testing.T) {
	mapping := strings.Replace(laboratory, `"limit": {"column": "dl"}`,
		`"limit": {"column": "dl"}, "waivedBy": {"column": "by"}, "reason": {"column": "why"}`, 1)
	waived := geo.Sample{Analyte: "fluoride", Unit: "mg/L", WaivedBy: "A. Diallo", Reason: "none in forty bores around"}
	for row, want := range map[string]geo.Sample{
		"arsenic,,ug/L,,10,,": {Analyte: "arsenic", Unit: "ug/L", DetectionLimit: geo.Some(10.0)},
		"fluoride,,mg/L,,,A. Diallo,none in forty bores around":    waived,
		"fluoride,,,,,A. Diallo,none in forty bores around":        waived,
		"fluoride,0.4,mg/L,,,A. Diallo,none in forty bores around": {Analyte: "fluoride", Unit: "mg/L", Value: geo.Some(0.4)},
		"nitrate,,mg/L,NO3,,A. Diallo,none in forty bores around":  {Analyte: "nitrate", Basis: "NO3", Unit: "mg/L", WaivedBy: waived.WaivedBy, Reason: waived.Reason},
	} {
		got, bag := resultsOf(t, mapping, "no,what,v,u,basis,dl,by,why", "1,"+row+"\n")
		if len(got) != 1 || got[0] != want {
			t.Errorf("%s: %+v %+v, want %+v", row, got, bag.Issues, want)
		}
	}
	for _, row := range []string{"fluoride,,mg/L,,,A. Diallo,", "fluoride,,mg/L,,,,no reason"} {
		got, bag := resultsOf(t, mapping, "no,what,v,u,basis,dl,by,why", "1,"+row+"\n")
		if len(got) != 0 {
			t.Errorf("%s: %+v", row, got)
		}
		wantIssues(t, bag, "issue.missing-position", "issue.missing-value")
	}
}

func TestReadResultsSaysWhatIsWrong(t *testing.T) {
	for row, want := range map[string]string{
		"gold,1,mg/L,,":        "issue.unknown-value",
		",1,mg/L,,":            "issue.missing-value",
		"arsenic,,mg/L,,":      "issue.missing-value",
		"arsenic,1,,,":         "issue.unknown-unit",
		"arsenic,1,uS/cm,,":    "issue.unknown-unit",
		"arsenic,1 spoon,,,":   "issue.unknown-unit",
		"arsenic,ND,mg/L,,":    "issue.no-detection-limit",
		"arsenic,TNTC,mg/L,,":  "issue.bad-number",
		"arsenic,-1,mg/L,,":    "issue.bad-number",
		"arsenic,a lot,mg/L,,": "issue.bad-number",
		"nitrate,12,mg/L,,":    "issue.no-basis",
		"e-coli,TNTC,,,":       "issue.lower-bound",
		"e-coli,>100,/100mL,,": "issue.lower-bound",
	} {
		t.Run(row, func(t *testing.T) {
			_, bag := resultsOf(t, laboratory, "no,what,v,u,basis,dl", "1,"+row+"\n")
			wantIssues(t, bag, "issue.missing-position", want)
		})
	}
}

func TestReadResultsByColumn(t *testing.T) {
	const wide = `{"name": "n", "dataset": "d", "tables": [
	  {"file": "b.csv", "kind": "bores", "key": ["no"], "fields": {"code": {"column": "no"}}},
	  {"file": "q.csv", "kind": "samples", "key": ["no"], "fields": {}, "analytes": {
	    "nitrate": {"column": "a", "unit": "mg/L as N"}, "ec": {"column": "b", "unit": "%s"}}}]}`
	got, bag := resultsOf(t, fmt.Sprintf(wide, "cell"), "no,a,b", "1,12,1.2 mS/cm\n1,<0.5,640\n")
	want := []geo.Sample{
		{Analyte: "nitrate", Basis: "N", Unit: "mg/L", Value: geo.Some(12.0)},
		{Analyte: "ec", Unit: "mS/cm", Value: geo.Some(1.2)},
		{Analyte: "nitrate", Basis: "N", Unit: "mg/L", DetectionLimit: geo.Some(0.5)},
	}
	if len(got) != len(want) {
		t.Fatalf("%+v", got)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("%+v, want %+v", got[i], want[i])
		}
	}
	wantIssues(t, bag, "issue.missing-position", "issue.unknown-unit")
	if _, err := intake.LoadMapping(strings.NewReader(fmt.Sprintf(wide, "mg/L"))); err == nil {
		t.Error("conductivity in mg/L is taken")
	}
}
