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
// whether there was water, who says so, and what kind of source it is. It asks for all of
// these in every row: visits and points that lack one are left out and counted.
//
//   - Source: what a row must hold, the guide to sharing data of the exchange (2021); names
//     and words as in published copies of its data, listed beside the test. What
//     #activity_id is meant to hold is from memory: here it is the point's own ID.
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
	source, kind := p.Source.By, sourceWords(p.Kind)
	if source == "" {
		source = p.Source.File
	}
	if source == "" || kind == "" {
		return nil
	}
	degrees := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	for _, v := range p.Visits {
		if v.On.Day == 0 {
			continue
		}
		rows = append(rows, []string{
			degrees(p.Position.Pos.Lat), degrees(p.Position.Pos.Lon), v.On.String(), functional(v.Works),
			wordsOf(v.Words).cell(), wordsOf(source).cell(), kind, string(p.ID),
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
// knows. Whether a dug well or a spring is protected is not on record.
func sourceWords(k geo.PointKind) string {
	switch k {
	case geo.TubeWell:
		return "Borehole/Tubewell"
	case geo.DugWell:
		return "Undefined Well"
	case geo.Spring:
		return "Undefined Spring"
	case geo.OpenWater:
		return "Surface Water (River/Stream/Lake/Pond/Dam)"
	case geo.PipedPoint:
		return "Piped Water"
	}
	return ""
}
