package server

import (
	"context"
	"encoding/json"
	"errors"
	"math"
	"net/http"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"waterstrike/geo"
	"waterstrike/server/account"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

// answers says what each kind of failure is in HTTP, and what is said when the failure
// brings no message of its own.
var answers = map[geo.Kind]struct {
	status  int
	message geo.Message
}{
	geo.Internal:   {http.StatusInternalServerError, geo.Say("problem.internal")},
	geo.Invalid:    {http.StatusBadRequest, geo.Say("problem.bad-question")},
	geo.NotFound:   {http.StatusNotFound, geo.Say("problem.not-found")},
	geo.Conflict:   {http.StatusConflict, geo.Say("problem.moved-on")},
	geo.TooFewData: {http.StatusUnprocessableEntity, geo.Say("problem.too-few-data")},
	geo.Unsolvable: {http.StatusUnprocessableEntity, geo.Say("problem.unsolvable")},
	geo.Newer:      {http.StatusInternalServerError, geo.Say("problem.internal")},
}

// failure is what is told of an error: a status, a message, and places to choose from.
type failure struct {
	status  int
	message geo.Message
	choices []geo.Village
	wait    time.Duration // before trying again makes sense; 0 for no matter
}

// asks tells whether the means to ask belong below the failure: not where the sender is
// not at the right place, or may not be.
func (f failure) asks() bool {
	return f.status != http.StatusMisdirectedRequest && f.status != http.StatusUnauthorized && f.status != http.StatusForbidden
}

// heading is the code of what stands above the message.
func (f failure) heading() string {
	switch {
	case f.message.Code == "problem.page-not-found":
		return "screen.no-page"
	case f.asks() && f.message.Code != "account.no-share":
		return "screen.no-answer"
	}
	return "screen.not-open"
}

// setHeaders tells a program what the message tells a person.
func (f failure) setHeaders(c echo.Context) {
	if f.wait > 0 {
		c.Response().Header().Set("Retry-After", strconv.Itoa(int(f.wait.Seconds())))
	}
	switch { // RFC 9110 wants a scheme; the way in is a form, but for programs that read features
	case f.status == http.StatusUnauthorized && takesBasic(c):
		c.Response().Header().Set("WWW-Authenticate", `Basic realm="waterstrike", charset="UTF-8"`)
	case f.status == http.StatusUnauthorized:
		c.Response().Header().Set("WWW-Authenticate", `Form realm="waterstrike"`)
	}
}

// choose is an error with villages that may have been meant.
type choose struct {
	cause    *geo.Error
	villages []geo.Village
}

func (e *choose) Error() string { return e.cause.Error() }
func (e *choose) Unwrap() error { return e.cause }

// misdirectedError is a request for a host that this program does not serve.
type misdirectedError struct{ host string }

func (e *misdirectedError) Error() string { return "server: request for the host " + e.host }

func misdirected(host string) error { return &misdirectedError{host} }

// failureOf is the only place where an error becomes a status.
func failureOf(err error) failure {
	var known *geo.Error
	var picky *choose
	var routed *echo.HTTPError
	var elsewhere *misdirectedError
	var faulty *faultsError
	if f, ok := failureOfPeople(err); ok {
		return f
	}
	if errors.As(err, &faulty) {
		return failure{status: http.StatusBadRequest, message: faulty.message()}
	}
	switch {
	case errors.As(err, &elsewhere):
		message := geo.Say("problem.wrong-host", geo.With("value", geo.Text(elsewhere.host)))
		return failure{status: http.StatusMisdirectedRequest, message: message}
	case errors.Is(err, context.DeadlineExceeded), errors.Is(err, context.Canceled):
		return failure{status: http.StatusServiceUnavailable, message: geo.Say("problem.too-slow")}
	case errors.As(err, &picky):
		return failure{status: answers[picky.cause.Kind].status, message: picky.cause.Message, choices: picky.villages}
	case errors.As(err, &known):
		return failureOfKind(known)
	case errors.As(err, &routed) && routed.Code == http.StatusNotFound:
		return failure{status: routed.Code, message: geo.Say("problem.page-not-found")}
	case errors.As(err, &routed) && routed.Code == http.StatusMethodNotAllowed:
		return failure{status: routed.Code, message: geo.Say("problem.read-only")}
	}
	return failure{status: http.StatusInternalServerError, message: geo.Say("problem.internal")}
}

// failureOfPeople is what is told of an error about who may do what.
func failureOfPeople(err error) (failure, bool) {
	var soon *account.TooSoonError
	var denied *deniedError
	var crossed *crossSiteError
	var large *http.MaxBytesError
	var known *geo.Error
	switch {
	case errors.As(err, &soon):
		minutes := geo.With("n", geo.Count(math.Ceil(soon.Wait.Minutes())))
		return failure{status: http.StatusTooManyRequests, message: geo.Say("account.too-soon", minutes), wait: soon.Wait}, true
	case errors.As(err, &denied) && denied.signIn:
		return failure{status: http.StatusUnauthorized, message: geo.Say("problem.sign-in-first")}, true
	case errors.As(err, &denied):
		return failure{status: http.StatusForbidden, message: geo.Say("problem.not-allowed")}, true
	case errors.As(err, &crossed):
		return failure{status: http.StatusForbidden, message: geo.Say("problem.cross-site")}, true
	case errors.As(err, &large):
		return failure{status: http.StatusRequestEntityTooLarge, message: geo.Say("problem.too-large")}, true
	case errors.Is(err, account.ErrNoMatch) && errors.As(err, &known):
		return failure{status: http.StatusUnauthorized, message: known.Message}, true
	}
	return failure{}, false
}

// failureOfKind keeps the message of a failure that the asker can mend; what went wrong
// inside is not told.
func failureOfKind(e *geo.Error) failure {
	answer, ok := answers[e.Kind]
	if !ok {
		answer = answers[geo.Internal]
	}
	f := failure{status: answer.status, message: answer.message}
	if e.Message.Code != "" && answer.status < http.StatusInternalServerError {
		f.message = e.Message
	}
	return f
}

// fail tells an error: people in a page, programs as problem+json.
func (s *Server) fail(err error, c echo.Context) {
	if c.Response().Committed {
		s.Log.Error("failed while answering", "path", c.Request().URL.Path, "error", err)
		return
	}
	f := failureOf(err)
	if f.status >= http.StatusInternalServerError {
		s.Log.Error("failed", "path", c.Request().URL.Path, "error", err)
	}
	c.Response().Header().Del("ETag")
	f.setHeaders(c)
	l := s.language(c)
	tell := s.problemPage
	if wantsJSON(c.Request()) {
		tell = s.problemJSON
	}
	if err := tell(c, l, f); err != nil {
		s.Log.Error("failed while telling a failure", "path", c.Request().URL.Path, "error", err)
	}
}

// problem is the body of RFC 9457; Code is an extension member.
type problem struct {
	Type   string   `json:"type"`
	Title  string   `json:"title"`
	Status int      `json:"status"`
	Detail string   `json:"detail"`
	Code   geo.Code `json:"code"`
}

func (s *Server) problemJSON(c echo.Context, l say.Lang, f failure) error {
	body, err := json.Marshal(problem{
		"about:blank", http.StatusText(f.status), f.status,
		s.Catalogue.Say(l, sheet.Message(f.message)), f.message.Code,
	})
	if err != nil {
		return err
	}
	c.Response().Header().Set("Content-Language", l.String())
	return c.Blob(f.status, "application/problem+json", append(body, '\n'))
}

// wantsJSON tells whether a program asks: by the address, or by what it accepts.
func wantsJSON(r *http.Request) bool {
	switch accept := r.Header.Get("Accept"); {
	case strings.HasSuffix(r.URL.Path, ".json"), r.URL.Path == "/health":
		return true
	case strings.Contains(accept, "text/html"):
		return false
	default:
		return strings.Contains(accept, "application/json") || strings.Contains(accept, "application/problem+json")
	}
}

// clip keeps what is told back to the asker short and readable.
func clip(text string) string {
	const most = 60
	text = strings.ToValidUTF8(text, "\ufffd")
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	return string([]rune(text)[:most]) + "…"
}
