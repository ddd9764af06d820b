package server

import (
	"html/template"
	"net/http"
	"net/url"
	"strconv"

	"waterstrike/server/account"
	"waterstrike/ui/draw"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

// sharesView lists the links for outsiders.
type sharesView struct {
	Heading, Why string
	Make         formView
	None         string // said in place of links
	Shares       []shareView
}

type shareView struct {
	Label, State, Positions, By string
	Over                        bool
	Withdraw                    *formView // nil when it is over
}

// linkMadeView is a link that was just made. It is shown this once.
type linkMadeView struct {
	Heading, Words, Label, Address string
	Lines                          []string
	Sign                           template.HTML // the address for a camera
	Back                           linkView
}

// shareDays are the days that a link may be made for.
func shareDays() []int { return []int{1, 7, 30, 90, 365} }

const usualDays = "30"

// sharesPage answers GET /shares.
func (s *Server) sharesPage(c echo.Context) error { return s.showShares(c, url.Values{}, nil) }

func (s *Server) showShares(c echo.Context, sent url.Values, failed error) error {
	p := s.speaker(c)
	all, err := s.People.Shares(c.Request().Context())
	if err != nil {
		return err
	}
	form := p.shareForm(sent)
	status, err := s.alert(c, &form, failed)
	if err != nil {
		return err
	}
	v := s.ownFrame(c)
	v.Title = p.Say("share.shares")
	v.Shares = &sharesView{Heading: v.Title, Why: p.Say("share.why"), Make: form}
	if len(all) == 0 {
		v.Shares.None = p.Say("share.none")
	}
	for _, share := range all {
		v.Shares.Shares = append(v.Shares.Shares, s.shareView(p, share))
	}
	return s.show(c, status, v)
}

func (s speaker) shareForm(sent url.Values) formView {
	days := fieldView{ID: "days", Name: "days", Label: s.Say("share.lasts"), Type: "select"}
	wanted := sent.Get("days")
	if wanted == "" {
		wanted = usualDays
	}
	for _, n := range shareDays() {
		value := strconv.Itoa(n)
		days.Choices = append(days.Choices, choiceView{Value: value, Name: s.Say("share.days", say.With("n", say.Count(n))), Chosen: value == wanted})
	}
	return formView{
		Heading: s.Say("share.make"), Action: "/shares", Button: s.Say("share.make"),
		Fields: []fieldView{
			{
				ID: "label", Name: "label", Label: s.Say("share.label"), Hint: s.Say("share.label.hint"), Type: "text",
				Value: clip(sent.Get("label")), Complete: "off", Max: maxText,
			},
			days,
			{
				ID: "blur", Name: "blur", Label: s.Say("share.blur"), Type: "checkbox", Value: "yes", Optional: true,
				Hint: s.Say("share.blur.hint", say.With("distance", say.Distance(blurM))), Checked: len(sent) == 0 || sent.Has("blur"),
			},
		},
	}
}

func (s *Server) shareView(p speaker, share account.Share) shareView {
	zone := s.Now().Location()
	v := shareView{
		Label: share.Label, Over: !share.Works(s.Now()), Positions: p.Say("share.exact"),
		By: p.Say("share.by", say.With("value", say.Text(share.MakerName)), say.With("date", say.Date(share.Made.In(zone)))),
	}
	if share.Blurred {
		v.Positions = p.Say("share.rough")
	}
	ends := say.With("date", say.Date(share.Expires.In(zone)))
	switch {
	case share.Withdrawn:
		v.State = p.Say("share.withdrawn")
	case v.Over:
		v.State = p.Say("share.ended", ends)
	default:
		v.State = p.Say("share.until", ends)
		v.Withdraw = &formView{Action: "/shares/" + strconv.FormatInt(share.ID, 10) + "/withdraw", Button: p.Say("share.withdraw")}
	}
	return v
}

// makeShare answers POST /shares.
func (s *Server) makeShare(c echo.Context) error {
	sent, err := form(c)
	if err != nil {
		return err
	}
	days, err := strconv.Atoi(sent.Get("days"))
	if err != nil {
		days = 0 // refused with the rest
	}
	share, token, err := s.People.MakeShare(c.Request().Context(), s.visitor(c).id, sent.Get("label"), sent.Get("blur") == "yes", days)
	if err != nil {
		return s.showShares(c, sent, err)
	}
	p, v := s.speaker(c), s.ownFrame(c)
	v.Title = p.Say("share.made")
	at := s.address(c, "/shared/"+token)
	sign, err := qrSign(at, p.Say("share.sign"))
	if err != nil {
		return err
	}
	view := s.shareView(p, share)
	v.Made = &linkMadeView{
		Heading: v.Title, Words: p.Say("share.made.once"), Label: p.Say("share.address"), Address: at,
		Lines: append([]string{view.Label, view.State + ", " + view.Positions}, p.onlyHere(c)...), Sign: sign,
		Back: linkView{Name: p.Say("share.back"), Href: "/shares"},
	}
	v.Languages = s.languages(v.Lang, "/shares", nil) // the address would be gone
	return s.show(c, http.StatusOK, v)
}

// qrSign draws an address for a camera.
func qrSign(address, title string) (template.HTML, error) {
	scene, err := draw.QR(address, title)
	if err != nil {
		return "", err
	}
	return inPage(scene)
}

// withdrawShare answers POST /shares/:share/withdraw.
func (s *Server) withdrawShare(c echo.Context) error {
	id, err := number(c, "share")
	if err != nil {
		return err
	}
	if err := s.People.Withdraw(c.Request().Context(), s.visitor(c).id, id); err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, "/shares")
}
