package server

import (
	"errors"
	"io"
	"mime/multipart"
	"net/http"
	"strings"
	"time"

	"waterstrike/geo/arrival"
	"waterstrike/server/account"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

const intakePath = "/intake"

// intakeView is where files are handed in, what waits of them, and what was taken in.
type intakeView struct {
	Heading, Lead  string
	Alert, Done    string
	Hand           handView
	WaitingHeading string
	Waiting        []waitingView
	ImportsHeading string
	None           string // said in place of imports
	Imports        []importView
}

// handView is the form that files are handed in by.
type handView struct {
	Label, Hint, Button string
	Bytes, Files        int    // the most of each
	Charts              string // where files go that are no records
	TooLarge, TooMany   string // what the page says before it sends more
	Sending             string // while they are sent
}

type waitingView struct{ Name, Href, State, Aside string }

type importView struct {
	Name, When, Counts, Files string
	Over                      bool
	State                     string // said where it was taken back, or is being
	TakeBack                  *formView
}

// intakeRoutes are the addresses of files on their way in; none where nobody takes them.
func (s *Server) intakeRoutes() []route {
	const get, post = http.MethodGet, http.MethodPost
	if s.Intake == nil {
		return nil
	}
	return []route{
		{get, intakePath, account.Planner, s.intakePage},
		{post, intakePath, account.Planner, s.handIn},
		{get, intakePath + "/:arrival", account.Planner, s.arrivalPage},
		{get, intakePath + "/:arrival/mapping.json", account.Planner, s.mappingFile},
		{post, intakePath + "/:arrival/look", account.Planner, s.lookAgain},
		{post, intakePath + "/:arrival/match", account.Planner, s.match},
		{post, intakePath + "/:arrival/apply", account.Planner, s.applyDraft},
		{post, intakePath + "/:arrival/discard", account.Planner, s.discard},
		{post, intakePath + "/imports/:import/take-back", account.Planner, s.takeBack},
	}
}

// intakePage answers GET /intake.
func (s *Server) intakePage(c echo.Context) error { return s.showIntake(c, nil) }

func (s *Server) showIntake(c echo.Context, failed error) error {
	p := s.speaker(c)
	waiting, err := s.Intake.Arrivals()
	if err != nil {
		return err
	}
	imports, err := s.Intake.Imports(c.Request().Context())
	if err != nil {
		return err
	}
	var hand formView
	status, err := s.alert(c, &hand, failed)
	if err != nil {
		return err
	}
	v := s.ownFrame(c)
	v.Title = p.Say("intake.heading")
	v.Intake = &intakeView{
		Heading: v.Title, Lead: p.Say("intake.lead"), Alert: hand.Alert, Hand: p.handView(),
		WaitingHeading: p.Say("intake.waiting"), ImportsHeading: p.Say("intake.imports"),
	}
	if len(imports) == 0 {
		v.Intake.None = p.Say("intake.no-imports")
	}
	for _, a := range waiting {
		v.Intake.Waiting = append(v.Intake.Waiting, s.waitingView(p, a))
		v.Refresh = refreshFor(v.Refresh, a.Doing)
	}
	for _, i := range imports {
		v.Intake.Imports = append(v.Intake.Imports, s.importView(p, i))
		v.Refresh = refreshFor(v.Refresh, i.Doing)
	}
	return s.show(c, status, v)
}

// refreshFor asks for the page again while something is being done.
func refreshFor(so int, doing arrival.Doing) int {
	if doing.Work == "" {
		return so
	}
	return lookAgain
}

func (s speaker) handView() handView {
	megabytes := say.With("n", say.Count(arrival.MaxBytes>>20))
	return handView{
		Label: s.Say("intake.files"), Hint: s.Say("intake.files.hint", megabytes), Charts: s.Say("intake.charts"), Button: s.Say("intake.hand-in"),
		Bytes: arrival.MaxBytes, Files: arrival.MaxFiles, Sending: s.Say("intake.sending"),
		TooLarge: s.Say("arrival.too-large", megabytes), TooMany: s.Say("arrival.too-many", say.With("n", say.Count(arrival.MaxFiles))),
	}
}

func (s *Server) waitingView(p speaker, a arrival.Arrival) waitingView {
	state := p.Say("intake.step." + string(a.Step))
	if a.Doing.Work != "" {
		state = p.Say("intake.work." + string(a.Doing.Work))
	} else if a.Failure.Code != "" {
		state = p.tell(a.Failure)
	}
	return waitingView{Name: p.filesOf(a), Href: intakePath + "/" + a.ID, State: state, Aside: p.handedIn(a, s.Now().Location())}
}

// filesOf names what was handed in together.
func (s speaker) filesOf(a arrival.Arrival) string {
	if len(a.Files) == 1 {
		return a.Files[0].Name
	}
	return s.Say("intake.file-and-more", say.With("file", say.Text(a.Files[0].Name)), say.With("n", say.Count(len(a.Files)-1)))
}

func (s speaker) handedIn(a arrival.Arrival, zone *time.Location) string {
	return s.Say("intake.handed-in", say.With("value", say.Text(s.whoever(a.By))), say.With("day", say.Text(s.moment(a.At.In(zone)))))
}

// whoever names who did something; nobody in particular where nobody signs in.
func (s speaker) whoever(name string) string {
	if name == "" {
		return s.Say("intake.somebody")
	}
	return name
}

func (s speaker) moment(at time.Time) string {
	return s.Say("value.date", say.With("date", say.Date(at))) + ", " + at.Format("15:04")
}

func (s *Server) importView(p speaker, i arrival.Import) importView {
	zone := s.Now().Location()
	name := i.Why
	if name == "" {
		name = i.Dataset
	}
	v := importView{
		Name: name, Over: i.TakenBack, Files: strings.Join(i.Files, ", "),
		When:   p.Say("intake.handed-in", say.With("value", say.Text(p.whoever(i.Who))), say.With("day", say.Text(p.moment(i.At.In(zone))))),
		Counts: p.Say("intake.counts", say.With("added", say.Count(i.Added)), say.With("changed", say.Count(i.Changed)), say.With("same", say.Count(i.Same))),
	}
	switch {
	case i.TakenBack:
		v.State = p.takenBack(i, zone)
	case i.Doing.Work != "":
		v.State = p.doing(i.Doing)
	default:
		v.TakeBack = &formView{
			Heading: p.Say("intake.take-back"), Action: intakePath + "/imports/" + i.ID + "/take-back", Button: p.Say("intake.take-back.do"), Intro: p.Say("intake.take-back.why"),
		}
	}
	if i.Failure.Code != "" {
		v.State = p.tell(i.Failure)
	}
	return v
}

// takenBack says who took an import back, and when.
func (s speaker) takenBack(i arrival.Import, zone *time.Location) string {
	return s.Say("intake.taken-back", say.With("value", say.Text(s.whoever(i.BackBy))), say.With("day", say.Text(s.moment(i.BackAt.In(zone)))))
}

// doing says what is being done and how far it is.
func (s speaker) doing(d arrival.Doing) string {
	words := s.Say("intake.work." + string(d.Work))
	switch {
	case d.Total > 0:
		return words + " " + s.Say("intake.done-of", say.With("n", say.Count(d.Done)), say.With("total", say.Count(d.Total)))
	case d.Done > 0:
		return words + " " + s.Say("intake.done", say.With("n", say.Count(d.Done)))
	}
	return words
}

// handIn answers POST /intake.
func (s *Server) handIn(c echo.Context) error {
	parts, err := s.parts(c)
	if err != nil {
		return s.showIntake(c, err)
	}
	a, err := s.Intake.Receive(s.visitor(c).name, nextFile(parts))
	if err != nil {
		return s.showIntake(c, err)
	}
	return c.Redirect(http.StatusSeeOther, intakePath+"/"+a.ID)
}

// maxAround is what a form weighs besides the files in it.
const maxAround = 1 << 20

// parts reads a form with files as it comes in, as long as it comes in at all.
func (s *Server) parts(c echo.Context) (*multipart.Reader, error) {
	r := c.Request()
	r.Body = http.MaxBytesReader(c.Response(), r.Body, arrival.MaxBytes+maxAround)
	r.Body = &patient{ReadCloser: r.Body, limits: s.limits, of: http.NewResponseController(c.Response()), until: time.Now().Add(longestUpload)}
	parts, err := r.MultipartReader()
	if err != nil {
		return nil, badForm(err)
	}
	return parts, nil
}

// longestUpload is how long files may take to come in over a slow line.
const longestUpload = 15 * time.Minute

// patient gives a connection more time as long as something comes in.
type patient struct {
	io.ReadCloser
	limits limits
	of     *http.ResponseController
	until  time.Time
}

func (p *patient) Read(b []byte) (int, error) {
	if now := time.Now(); now.Before(p.until) {
		// A connection without deadlines, as of tests, has all the time there is.
		_ = p.of.SetReadDeadline(now.Add(p.limits.read))
		_ = p.of.SetWriteDeadline(now.Add(p.limits.read + p.limits.write))
	}
	return p.ReadCloser.Read(b)
}

// nextFile goes through the files of a form.
func nextFile(parts *multipart.Reader) arrival.Next {
	return func() (string, io.Reader, error) {
		for {
			part, err := parts.NextRawPart()
			switch {
			case errors.Is(err, io.EOF):
				return "", nil, io.EOF
			case err != nil:
				return "", nil, badUpload(err)
			case part.FormName() == "files" && part.FileName() != "":
				return part.FileName(), sender{part}, nil
			}
		}
	}
}

// sender is a file that comes in: what it fails with is the sender's matter.
type sender struct{ part *multipart.Part }

func (s sender) Read(b []byte) (int, error) {
	n, err := s.part.Read(b)
	if err != nil && !errors.Is(err, io.EOF) {
		err = badUpload(err)
	}
	return n, err
}

// badUpload tells a form that is wrong from one that is too large.
func badUpload(err error) error {
	var large *http.MaxBytesError
	if errors.As(err, &large) {
		return err
	}
	return badForm(err)
}

// takeBack answers POST /intake/imports/:import/take-back.
func (s *Server) takeBack(c echo.Context) error {
	if err := s.Intake.TakeBack(c.Request().Context(), c.Param("import"), s.visitor(c).name); err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, intakePath)
}
