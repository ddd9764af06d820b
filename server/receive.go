package server

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"mime"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"unicode/utf8"

	"waterstrike/geo"
	"waterstrike/geo/check"
	"waterstrike/geo/coord"
	"waterstrike/geo/store"

	"github.com/labstack/echo/v4"
)

const maxLog = 512 << 10 // bytes; a log of 50 metres with every reading needs a tenth of it

// sentBore is a finished bore as it is sent: the body of POST /bores as JSON.
type sentBore struct {
	Bore  geo.Bore `json:"bore"`
	At    string   `json:"at"`    // the position in words; counts where the bore has none
	Since int64    `json:"since"` // the last change that the sender had seen of the bore; 0 for a new one
	Why   string   `json:"why"`   // the reason of a correction, for the history
}

// told is what the sender of a bore gets back.
type told struct {
	ID      geo.BoreID  `json:"id"`
	Seq     int64       `json:"seq"`   // to send with the next correction
	Again   bool        `json:"again"` // it had come before: nothing was written
	Address string      `json:"address"`
	Issues  []issueView `json:"issues"` // what looks doubtful; it is kept all the same
}

// issueView is one finding with its words in the sender's language.
type issueView struct {
	Severity geo.Severity `json:"severity"`
	Code     geo.Code     `json:"code"`
	Words    string       `json:"words"`
}

// receiveBore answers POST /bores: a finished bore, or a correction of one. It answers once
// the bore is on the disk. The same body sent again adds nothing.
func (s *Server) receiveBore(c echo.Context) error {
	body, sent, fields, err := s.readSent(c)
	if err != nil {
		return s.refuseBore(c, fields, err)
	}
	b, err := s.completed(c, sent)
	if err != nil {
		return s.refuseBore(c, fields, err)
	}
	got, err := s.Records.ReceiveBore(c.Request().Context(), b, store.Sent{Since: sent.Since, Body: body}, s.why(c, sent.Why))
	if err != nil {
		return s.refuseBore(c, fields, err)
	}
	address := "/bores/" + string(b.ID)
	if !wantsJSON(c.Request()) {
		return c.Redirect(http.StatusSeeOther, address+"?saved")
	}
	status := http.StatusCreated
	if got.Again || sent.Since > 0 {
		status = http.StatusOK
	}
	return c.JSON(status, told{b.ID, got.Seq, got.Again, address, s.issues(c, b)})
}

// refuseBore shows a form again with what was written in it; whoever sent anything else
// gets the failure.
func (s *Server) refuseBore(c echo.Context, fields url.Values, failed error) error {
	if fields == nil || wantsJSON(c.Request()) {
		return failed
	}
	draft := "new"
	if fields.Get("since") != "0" {
		draft = fields.Get("id")
	}
	var faulty *faultsError
	if errors.As(failed, &faulty) {
		return s.showEntry(c, http.StatusBadRequest, draft, fields, faulty.faults, nil)
	}
	return s.showEntry(c, http.StatusBadRequest, draft, fields, nil, failed)
}

// readSent reads a bore that was sent, as JSON or as the fields of a form.
func (s *Server) readSent(c echo.Context) (body []byte, sent sentBore, fields url.Values, err error) {
	r := c.Request()
	if isForm(r) {
		if body, fields, err = readForm(c); err != nil {
			return nil, sent, nil, err
		}
		sent, faults, err := s.boreOf(c, fields)
		if err == nil && len(faults) > 0 {
			err = &faultsError{faults}
		}
		return body, sent, fields, err
	}
	kind, _, err := mime.ParseMediaType(r.Header.Get(echo.HeaderContentType))
	if err != nil || kind != echo.MIMEApplicationJSON {
		return nil, sent, nil, badForm(err)
	}
	if body, err = io.ReadAll(http.MaxBytesReader(c.Response(), r.Body, maxLog)); err != nil {
		return nil, sent, nil, unread(err)
	}
	return body, sent, nil, readJSON(body, &sent)
}

// unread keeps a body that is too large apart from one that broke off.
func unread(err error) error {
	var large *http.MaxBytesError
	if errors.As(err, &large) {
		return err
	}
	return badForm(err)
}

// readJSON reads one value and nothing after it. A field that nobody knows is refused:
// what it says would be lost.
func readJSON(body []byte, into any) error {
	d := json.NewDecoder(bytes.NewReader(body))
	d.DisallowUnknownFields()
	err := d.Decode(into)
	if err == nil && d.More() {
		err = errors.New("something follows the record")
	}
	if err == nil {
		return nil
	}
	return geo.Fail(geo.Invalid, "server.readJSON", geo.Say("problem.bad-record", geo.With("value", geo.Text(clip(err.Error())))), err)
}

// completed is the bore to keep: what only the server knows is added, and what no sender
// may say of it is set.
func (s *Server) completed(c echo.Context, sent sentBore) (geo.Bore, error) {
	b := sent.Bore
	if !b.Position.Known() && strings.TrimSpace(sent.At) != "" {
		r, err := coord.ReadPair(sent.At, coord.LatLonOrder)
		if err != nil {
			return b, unreadable(err, sent.At)
		}
		b.Position = geo.Some(r)
	}
	for i := range b.Layers {
		if b.Layers[i].Confidence == 0 { // whoever stood there says what it was
			b.Layers[i].Confidence = 1
		}
	}
	if utf8.RuneCountInString(sent.Why) > maxReason {
		return b, geo.Fail(geo.Invalid, "server.completed", geo.Say("problem.too-long"), nil)
	}
	source := geo.Provenance{By: b.Source.By, Fields: b.Source.Fields}
	if old, err := s.Records.Bore(c.Request().Context(), b.ID); err == nil {
		source = old.Source
		if b.Source.By != "" {
			source.By = b.Source.By
		}
	} else if geo.KindOf(err) != geo.NotFound {
		return b, err
	}
	b.Source = source
	whole, err := geo.NewBore(b)
	if err != nil {
		return b, badRecord(err)
	}
	return whole, nil
}

// badRecord tells what of a record cannot be.
func badRecord(err error) error {
	return geo.Fail(geo.Invalid, "server.badRecord", geo.Say("problem.bad-record", geo.With("value", geo.Text(clip(geo.Cause(err).Error())))), err)
}

// checked is what looks wrong in a bore that is being written.
type checked struct {
	Faults []fault     `json:"faults"` // of a form: fields that cannot be read
	Issues []issueView `json:"issues"`
}

// checkBore answers POST /bores/check: what looks doubtful in a bore that is being written,
// as JSON. Nothing is kept.
func (s *Server) checkBore(c echo.Context) error {
	_, sent, _, err := s.readSent(c)
	var faulty *faultsError
	if errors.As(err, &faulty) {
		return c.JSON(http.StatusOK, checked{faulty.faults, []issueView{}})
	}
	if err != nil {
		return err
	}
	b, err := s.completed(c, sent)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, checked{[]fault{}, s.issues(c, b)})
}

// issues are what the rules say of a bore, as a record and as a well.
func (s *Server) issues(c echo.Context, b geo.Bore) []issueView {
	found := check.Bore(b, geo.DateOf(s.Now()))
	if len(b.Pipes)+len(b.Fills) > 0 {
		found = append(found, s.Trade.Review(b)...)
	}
	p := s.speaker(c)
	out := make([]issueView, len(found))
	for i, one := range found {
		out[i] = issueView{one.Severity, one.Message.Code, p.tell(one.Message)}
	}
	return out
}

func decimal(n int64) string { return strconv.FormatInt(n, 10) }
