package server

import (
	"html/template"
	"net/url"

	"waterstrike/server/sheet"
	"waterstrike/ui/say"
)

// view is what the page's template shows.
type view struct {
	Lang      say.Lang
	Tag       string // of the language, BCP 47
	Title     string
	Languages []langView
	Base      string     // what the page draws on
	Home      string     // where the name of the program leads
	Network   string     // what it needs of a network
	Demo      string     // said where nobody needs to sign in
	Pages     []pageView // above the page
	Below     []pageView
	Who       *whoView // nil for nobody in particular
	Refresh   int      // seconds after which the page is asked for again where scripts do not run; 0 for never
	Problem   *problemView
	Working   *workingView
	Account   *accountView
	Answer    *answerView
	Building  *buildingView
	Record    *recordView
	Entry     *entryView
	Choose    *chooseView
	Siting    *sitingView
	Ask       *askView
	Atlas     *atlasView
	List      *listingView
	Section   *sectionView
	Wide      bool // the page fills the window
	Door      *formView
	Me        *meView
	People    *peopleView
	Code      *codeView
	Shares    *sharesView
	Made      *linkMadeView
	Shared    *sharedView
	Phone     *phoneView
	Hole      *holeView
	Intake    *intakeView
	Arrival   *arrivalView
}

// pageView links one of the pages that the visitor may see.
type pageView struct {
	Name, Href string
	Current    bool
}

// whoView is who has signed in.
type whoView struct{ Name, Access, SignOut string }

type langView struct {
	Tag, Name, Href string
	Current         bool
}

type problemView struct {
	Heading, Words, ChoicesHeading string
	Choices                        []linkView
	Next                           *linkView // what to do about it
}

// workingView says how far something is that takes its time.
type workingView struct {
	Heading, Words, Done string
	Data                 string // address that answers 200 once it is done
	Asked, Total         int    // Total 0: not known yet
}

type accountView struct {
	sheet.Account
	Lang  say.Lang
	Data  string     // address of the JSON
	Older string     // said when the records have moved on since
	More  []linkView // the same in other forms
}

type linkView struct{ Name, Href, Aside string }

type answerView struct {
	sheet.Page
	Lang say.Lang
	Data string // address of the JSON
	More string // address of the building sheet; empty without a plan
	Hole string // address of the page beside the open hole; empty for who may not open it
	Site string // address of the form of a siting visit here; empty for who may not fill it in
}

type buildingView struct {
	sheet.Building
	Lang say.Lang
	Back string // address of the advice
	PDF  string // the same for paper; empty without a plan
}

// askView is the part of the page that asks.
type askView struct {
	Lang        say.Lang
	Tag         string
	Heading     string // of the page; empty where the page has another
	MaxText     int
	Folded      bool // behind a line that opens it, below an answer
	Open        bool
	At, Village string // as asked
	VillageHint string
	Villages    []string
	Map         *mapView
}

type mapView struct {
	Around                   string // centre as "lat,lon"; empty for the whole region
	West, East, North, South string // degrees
	Pictures                 []pictureView
	Hint, Shown              string
	Other                    *linkView // the map of the other extent
	Legend                   template.HTML
}

type pictureView struct {
	Name, Src string
	Px        int
}

// languages links the page in each language.
func (s *Server) languages(l say.Lang, path string, q url.Values) []langView {
	var out []langView
	for _, other := range say.Langs() {
		next := url.Values{}
		for name, values := range q {
			next[name] = values
		}
		next.Set("lang", other.String())
		out = append(out, langView{
			Tag: other.String(), Href: path + "?" + next.Encode(), Current: other == l,
			Name: s.Catalogue.Say(l, say.Msg("language."+other.String())),
		})
	}
	return out
}
