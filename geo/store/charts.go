package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"waterstrike/geo"

	"github.com/paulmach/orb"
)

// Chart is a map in pictures that somebody else made: a file of tiles as the MBTiles
// specification 1.3 has them, in Web Mercator. It is only read, and safe for concurrent
// use.
type Chart struct {
	Name        string // as the file tells it, or the file's own
	Attribution string // whose it is, in plain text; may be empty
	Bound       orb.Bound
	Least, Most int // zooms that it has
	file        *sql.DB
}

// maxPicture bounds the bytes of one picture that is passed on.
const maxPicture = 4 << 20

// OpenChart opens a file of pictures.
//
//   - Errors: [geo.Invalid] for a file that is none, or holds anything but PNG, JPEG or
//     WebP; [geo.NotFound] where there is no file.
func OpenChart(path string) (*Chart, error) {
	if _, _, err := header(path); errors.Is(err, fs.ErrNotExist) {
		return nil, geo.Fail(geo.NotFound, "store.OpenChart", geo.Message{}, err)
	}
	file, err := sql.Open("sqlite", dsn(path, lookPragmas+"&_pragma=query_only(1)"))
	if err != nil {
		return nil, noChart(path, err)
	}
	file.SetMaxOpenConns(2)
	c := &Chart{file: file, Name: strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))}
	if err := c.describe(); err != nil {
		return nil, noChart(path, errors.Join(err, file.Close()))
	}
	return c, nil
}

func noChart(path string, err error) error {
	return geo.Fail(geo.Invalid, "store.OpenChart", geo.Say("check.chart-refused", geo.With("value", geo.Text(filepath.Base(path)))), err)
}

// Close releases the file.
func (c *Chart) Close() error { return c.file.Close() }

func (c *Chart) describe() error {
	about, err := c.metadata()
	if err != nil {
		return err
	}
	if kind := about["format"]; !slices.Contains([]string{"png", "jpg", "jpeg", "webp"}, kind) {
		return fmt.Errorf("its format is %q; png, jpg and webp can be shown", kind)
	}
	if name := strings.TrimSpace(about["name"]); name != "" {
		c.Name = name
	}
	c.Attribution = about["attribution"]
	var least, most sql.NullInt64
	if err := c.file.QueryRow(`SELECT min(zoom_level), max(zoom_level) FROM tiles`).Scan(&least, &most); err != nil {
		return err
	}
	if !least.Valid || least.Int64 < 0 || most.Int64 > 30 {
		return errors.New("it holds no tiles of the zooms 0 to 30")
	}
	c.Least, c.Most = int(least.Int64), int(most.Int64)
	c.Bound = boundOf(about["bounds"])
	return nil
}

func (c *Chart) metadata() (map[string]string, error) {
	rows, err := c.file.Query(`SELECT name, value FROM metadata LIMIT 1000`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	about := map[string]string{}
	for rows.Next() {
		var name, value sql.NullString
		if err := rows.Scan(&name, &value); err != nil {
			return nil, err
		}
		about[name.String] = value.String
	}
	return about, rows.Err()
}

// boundOf reads "west,south,east,north" in degrees; the whole map where it cannot be used.
func boundOf(text string) orb.Bound {
	whole := orb.Bound{Min: orb.Point{-180, -85}, Max: orb.Point{180, 85}}
	parts := strings.Split(text, ",")
	if len(parts) != 4 {
		return whole
	}
	var v [4]float64
	for i, part := range parts {
		n, err := strconv.ParseFloat(strings.TrimSpace(part), 64)
		if err != nil || math.IsNaN(n) || math.Abs(n) > 180 {
			return whole
		}
		v[i] = n
	}
	if v[0] >= v[2] || v[1] >= v[3] {
		return whole
	}
	return orb.Bound{Min: orb.Point{v[0], v[1]}, Max: orb.Point{v[2], v[3]}}
}

// Picture returns a tile by its zoom, column and row from the north, with its media type.
//
//   - Errors: [geo.NotFound] where the file has none there, and where what it has is not a
//     picture that browsers show.
func (c *Chart) Picture(ctx context.Context, z, x, y int) (body []byte, media string, err error) {
	absent := func(err error) error {
		return geo.Fail(geo.NotFound, "store.Chart.Picture", geo.Say("problem.no-tile"), err)
	}
	if z < 0 || z > 30 || y < 0 || y >= 1<<z {
		return nil, "", absent(nil)
	}
	south := 1<<z - 1 - y // rows are counted from the south (the specification, section Tiles)
	err = c.file.QueryRowContext(ctx, `SELECT tile_data FROM tiles WHERE zoom_level = ? AND tile_column = ? AND tile_row = ? AND length(tile_data) <= ?`,
		z, x, south, maxPicture).Scan(&body)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, "", absent(err)
	}
	if err != nil {
		return nil, "", err
	}
	if media = mediaOf(body); media == "" {
		return nil, "", absent(errors.New("no picture"))
	}
	return body, media, nil
}

// mediaOf tells the kind of a picture by its first bytes; empty for anything else.
func mediaOf(body []byte) string {
	switch {
	case bytes.HasPrefix(body, []byte("\x89PNG\r\n\x1a\n")):
		return "image/png"
	case bytes.HasPrefix(body, []byte("\xff\xd8\xff")):
		return "image/jpeg"
	case len(body) > 12 && bytes.HasPrefix(body, []byte("RIFF")) && string(body[8:12]) == "WEBP":
		return "image/webp"
	}
	return ""
}
