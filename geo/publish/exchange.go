package publish

import (
	"context"
	"encoding/csv"
	"io"
	"strconv"

	"waterstrike/geo"
)

// exchangeHeads are the columns of the water-point data exchange that the records can fill.
func exchangeHeads() []string {
	return []string{"#lat_deg", "#lon_deg", "#report_date", "#status_id", "#status", "#source", "#water_source", "#activity_id"}
}

// Exchange writes what was found at water points in the columns of the open standard for
// the exchange of water-point data: a row for each visit, with the position, the day,
// whether there was water, and who says so. It asks for a day in every row: points that
// nobody visited on a known day, and visits without one, are left out and counted.
//
//   - Source: the exchange asks for position, day, whether water came, who says so, and the
//     kind of source or of pump (its guide to sharing data, 2021). #status_id, #source,
//     #water_source as in published copies of its data; the other names, and Yes, No,
//     Unknown, from memory.
//   - Checked by: TestExchange.
func Exchange(ctx context.Context, w io.Writer, src WaterPoints) (reports, left int, err error) {
	out := csv.NewWriter(w)
	out.UseCRLF = true // RFC 4180, section 2, rule 1
	if err := out.Write(exchangeHeads()); err != nil {
		return 0, 0, err
	}
	err = src.WaterPoints(ctx, func(p geo.WaterPoint) error {
		rows := reportsOf(p)
		if left += len(p.Visits) - len(rows); len(p.Visits) == 0 {
			left++
		}
		reports += len(rows)
		return out.WriteAll(rows)
	})
	if err != nil {
		return 0, 0, err
	}
	out.Flush()
	return reports, left, out.Error()
}

// reportsOf are the rows of one point.
func reportsOf(p geo.WaterPoint) (rows [][]string) {
	source := p.Source.By
	if source == "" {
		source = p.Source.File
	}
	degrees := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	for _, v := range p.Visits {
		if v.On == (geo.Date{}) {
			continue
		}
		rows = append(rows, []string{
			degrees(p.Position.Pos.Lat), degrees(p.Position.Pos.Lon), v.On.String(), functional(v.Works),
			wordsOf(v.Words).cell(), wordsOf(source).cell(), sourceWords(p.Kind), string(p.ID),
		})
	}
	return rows
}

func functional(works geo.Opt[bool]) string {
	yes, known := works.Get()
	switch {
	case !known:
		return "Unknown"
	case yes:
		return "Yes"
	}
	return "No"
}

// sourceWords are the exchange's words for where the water comes from; empty where nobody
// knows.
func sourceWords(k geo.PointKind) string {
	switch k {
	case geo.TubeWell:
		return "Borehole/Tubewell"
	case geo.DugWell:
		return "Dug Well"
	case geo.Spring:
		return "Spring"
	case geo.OpenWater:
		return "Surface Water"
	case geo.PipedPoint:
		return "Piped Water"
	}
	return ""
}
