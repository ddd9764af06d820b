package main

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"unicode"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/intake"

	"golang.org/x/text/unicode/norm"
)

// point is a place to answer for, as its row names it.
type point struct {
	name string
	at   coord.LonLat
}

// pointColumns are the names of columns of a table of points, folded, by what they hold.
var pointColumns = map[string][]string{
	"id":    {"id", "no", "code", "number", "numero", "codigo", "point", "ponto", "identifiant", "identificador", "pointid", "siteid"},
	"name":  {"name", "nom", "nome", "village", "aldeia", "localite", "localidade", "place", "lieu", "lugar", "site"},
	"lon":   {"lon", "long", "lng", "longitude"},
	"lat":   {"lat", "latitude"},
	"east":  {"east", "easting", "utme", "utmeast", "utmx", "x", "este", "est"},
	"north": {"north", "northing", "utmn", "utmnorth", "utmy", "y", "norte", "nord"},
	"zone":  {"zone", "utmzone", "fuseau", "fuso"},
	"pair":  {"position", "coordinates", "coordonnees", "coordenadas", "gps", "posicao", "latlon", "latlong", "location"},
}

// foldedName is a column's name without case, accents, blanks and signs.
func foldedName(name string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, norm.NFD.String(name))
}

// readPoints gives every point of a table to take, in the order of its rows; rows without
// a readable position go to doubt and are left out.
func (a *app) readPoints(ctx context.Context, path string, take func(point) error, doubt func(geo.Issue)) (intake.Summary, error) {
	files, name := os.DirFS(filepath.Dir(path)), filepath.Base(path)
	if _, err := os.Stat(path); err != nil {
		return intake.Summary{}, err
	}
	table, err := pointTable(files, name, path)
	if err != nil {
		return intake.Summary{}, err
	}
	m := intake.Mapping{Name: name, Dataset: "points", Lengths: "m", Yields: "L/s", Tables: []intake.Table{table}}
	sink := &pointSink{ctx: ctx, take: take, doubt: doubt}
	summary, err := intake.Read(ctx, m, files, sink, nil)
	return summary, err
}

// pointTable finds the columns of a table of points by their names.
func pointTable(files fs.FS, name, path string) (intake.Table, error) {
	t := intake.Table{File: name, Kind: "bores", NoKey: "whole-row", Fields: map[string]intake.Field{}}
	rows, err := intake.Open(files, t)
	if err != nil {
		return t, geo.Fail(geo.Invalid, "predict", geo.Message{}, errors.New(path+": "+geo.Cause(err).Error()))
	}
	defer rows.Close()
	found, err := findColumns(rows.Header(), path)
	if err != nil {
		return t, err
	}
	switch {
	case found["lon"] != "" && found["lat"] != "":
		t.Position = &intake.Position{Kind: "lon-lat", Lon: found["lon"], Lat: found["lat"]}
	case found["pair"] != "":
		t.Position = &intake.Position{Kind: "pair", Pair: found["pair"], Order: "lat-lon"}
	case found["east"] != "" && found["north"] != "" && found["zone"] != "":
		t.Position = &intake.Position{Kind: "projected", East: found["east"], North: found["north"], CRS: "WGS 84 / UTM zone {" + found["zone"] + "}"}
	default:
		return t, geo.Fail(geo.Invalid, "predict", geo.Say("predict.no-columns",
			geo.With("file", geo.Text(path)), geo.With("value", geo.Text(strings.Join(rows.Header(), ", ")))), nil)
	}
	for field, meant := range map[string]string{"code": "id", "name": "name"} {
		if found[meant] != "" {
			t.Fields[field] = intake.Field{Column: found[meant]}
		}
	}
	return t, nil
}

// findColumns returns the column of each thing; two of one thing leave it open which is
// meant.
func findColumns(header []string, path string) (map[string]string, error) {
	found := map[string]string{}
	for _, column := range header {
		for meant, names := range pointColumns {
			for _, name := range names {
				if foldedName(column) != name {
					continue
				}
				if found[meant] != "" && meant != "id" && meant != "name" {
					return nil, geo.Fail(geo.Invalid, "predict", geo.Say("predict.two-columns", geo.With("file", geo.Text(path)),
						geo.With("value", geo.Text(found[meant]+", "+column))), nil)
				}
				if found[meant] == "" {
					found[meant] = strings.TrimSpace(column)
				}
			}
		}
	}
	return found, nil
}

// pointSink takes the rows of a table of points; whatever else intake finds in them is no
// concern of a question.
type pointSink struct {
	ctx   context.Context
	take  func(point) error
	doubt func(geo.Issue)
}

// AddBore takes the point of one row, named as the row names it, or else by its number.
func (s *pointSink) AddBore(_ string, b geo.Bore) error {
	at, ok := b.Position.Get()
	if !ok {
		return nil // listed as an issue
	}
	name := b.Code
	if name == "" {
		name = b.Name
	}
	if name == "" {
		name = strconv.Itoa(b.Source.Row)
	}
	return s.take(point{name, at.Pos})
}

// AddIssue passes on what is wrong with a row.
func (s *pointSink) AddIssue(i geo.Issue) error {
	if i.Severity != geo.Note {
		i.Severity = geo.Rejected // a row that cannot be placed is not answered
		s.doubt(i)
	}
	return nil
}

// AddPart takes nothing: a point has no parts.
func (s *pointSink) AddPart(string, string, int, any) error { return nil }

// AddVillage takes nothing: the rows are points.
func (s *pointSink) AddVillage(geo.Village) error { return nil }

// AddWaterPoint takes nothing: the rows are points.
func (s *pointSink) AddWaterPoint(geo.WaterPoint) error { return nil }

// CountRow takes nothing: the summary counts rows.
func (s *pointSink) CountRow(string) {}
