package server

import (
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"strconv"
	"strings"

	"waterstrike/advisor"

	"github.com/labstack/echo/v4"
)

// tag makes an ETag of everything that an answer depends on.
func tag(parts ...string) string {
	h := sha256.New()
	for _, p := range parts {
		h.Write([]byte(strconv.Itoa(len(p)) + ":" + p)) // the lengths keep ("ab", "c") from ("a", "bc")
	}
	return `"` + hex.EncodeToString(h.Sum(nil)[:12]) + `"`
}

// adviceTag names an advice by the state of the records, the question and the program:
// the same three give the same bytes.
func adviceTag(a advisor.Advice) []string {
	bits := func(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
	return []string{
		a.Provenance.Snapshot, a.Provenance.Version,
		bits(a.Question.At.Lon), bits(a.Question.At.Lat), a.Question.Village, strconv.FormatUint(a.Question.Seed, 10),
	}
}

// unchanged sets the tag and tells whether the asker has this answer already (RFC 9110,
// If-None-Match).
func unchanged(c echo.Context, etag string) bool {
	c.Response().Header().Set("ETag", etag)
	for _, have := range strings.Split(c.Request().Header.Get("If-None-Match"), ",") {
		have = strings.TrimPrefix(strings.TrimSpace(have), "W/")
		if have == etag || have == "*" {
			return true
		}
	}
	return false
}

func notModified(c echo.Context) error { return c.NoContent(http.StatusNotModified) }
