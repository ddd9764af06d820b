package sheet

import (
	"encoding/csv"
	"io"
	"strconv"

	"waterstrike/advisor/programme"
	"waterstrike/advisor/season"
	"waterstrike/geo"
	"waterstrike/ui/say"
)

// SeasonCSV writes one row for each village, the largest need first: RFC 4180, UTF-8,
// points in numbers. The column names are the same in every language; the reason is said
// in the asker's.
func SeasonCSV(w io.Writer, c *say.Catalogue, l say.Lang, x *season.Season) error {
	s := speaker{c, l}
	rows := csv.NewWriter(w)
	rows.UseCRLF = true
	header := []string{"village_id", "village", "district", "lon", "lat", "people", "unserved", "in", "window", "people_gained", "chance", "attempts", "money", "weeks", "not_enough_evidence"}
	for _, n := range []string{"1", "2"} {
		header = append(header, "spot_"+n, "lon_"+n, "lat_"+n, "method_"+n, "when_"+n, "chance_"+n, "depth_m_"+n, "cost_"+n, "risk_"+n)
	}
	if err := rows.Write(append(header, "reason")); err != nil {
		return err
	}
	picks, reasons := map[string]programme.Pick{}, map[string]string{}
	for _, p := range x.Programme.Picks {
		picks[p.Village] = p
	}
	for _, r := range x.Programme.Why {
		reasons[r.Village] = s.tell(r.Message)
	}
	for _, v := range x.Villages {
		p, in := picks[v.ID]
		row := []string{
			v.ID, unharmed(v.Name), unharmed(v.District), plainNumber(v.At.Lon, 6), plainNumber(v.At.Lat, 6),
			strconv.Itoa(v.People.Or(0)), strconv.Itoa(v.Unserved), strconv.FormatBool(in),
		}
		if in {
			row = append(row, unharmed(x.Programme.Windows[p.Window].Name), plainNumber(p.People, 1), plainNumber(p.Chance, 4), plainNumber(p.Attempts, 2), plainNumber(p.Money, 2), plainNumber(p.Weeks, 2))
		} else {
			row = append(row, make([]string, 6)...)
		}
		row = append(row, unsureCell(v, p, in))
		for k := range 2 {
			row = append(row, tryCells(v, p, k)...)
		}
		if err := rows.Write(append(row, reasons[v.ID])); err != nil {
			return err
		}
	}
	rows.Flush()
	return rows.Error()
}

// unsureCell tells whether there is not enough evidence at a spot that is to be tried; where
// none is, at the likeliest; nothing where none was looked at.
func unsureCell(v season.Village, p programme.Pick, in bool) string {
	switch {
	case in:
		return strconv.FormatBool(unsure(v, p))
	case len(v.Spots) > 0:
		return strconv.FormatBool(v.Spots[0].Unsure)
	}
	return ""
}

func tryCells(v season.Village, p programme.Pick, k int) []string {
	if k >= len(p.Tries) {
		return make([]string, 9)
	}
	a := p.Tries[k]
	out := []string{a.Spot, "", "", string(a.Method), string(a.When), plainNumber(a.Chance, 4), optional(a.DepthM, 1), plainNumber(a.Cost, 2), optional(a.Risk, 4)}
	for _, x := range v.Spots {
		if x.Name == a.Spot {
			out[1], out[2] = plainNumber(x.At.Lon, 6), plainNumber(x.At.Lat, 6)
		}
	}
	return out
}

func optional(v geo.Opt[float64], decimals int) string {
	if x, ok := v.Get(); ok {
		return plainNumber(x, decimals)
	}
	return ""
}

// plainNumber writes a number for a program.
func plainNumber(v float64, decimals int) string { return strconv.FormatFloat(v, 'f', decimals, 64) }

// unharmed puts a single quote before a name that a spreadsheet might run as a formula.
func unharmed(name string) string {
	if name != "" && (name[0] == '=' || name[0] == '+' || name[0] == '-' || name[0] == '@' || name[0] == '\t' || name[0] == '\n' || name[0] == '\'') {
		return "'" + name
	}
	return name
}
