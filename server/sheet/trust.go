package sheet

import (
	"strings"

	"waterstrike/advisor/trust"
	"waterstrike/geo"
	"waterstrike/ui/say"
)

// Account is an account of how the advice kept its word, said in one language.
type Account struct {
	Lang   string // BCP 47
	Title  string
	Short  Lines // what to know first
	How    Lines // how it was checked
	Parts  []AccountPart
	Terms  Lines // who the others are
	Source Lines
}

// AccountPart is what was said of one thing: depth, layers, chance, and then the misses.
type AccountPart struct {
	Heading  string
	Tables   []Table
	Drawings []Drawing // empty unless made by [NewTrustPage]
	Key      string    // "level", "layers", "outcome" or "misses"
}

// NewTrust says an account in a language.
func NewTrust(c *say.Catalogue, l say.Lang, r trust.Report) Account {
	s := speaker{c, l}
	return Account{
		Lang:  l.String(),
		Title: s.Say("trust.title"),
		Short: Lines{s.Say("advice.heading.verdict"), s.inShort(r.Account)},
		How:   Lines{s.Say("trust.heading.how"), s.howChecked(r)},
		Parts: []AccountPart{
			{Heading: s.Say("advice.heading.water"), Tables: s.levelTables(r), Key: "level"},
			{Heading: s.Say("trust.heading.layers"), Tables: s.layerTables(r.Account.Layers), Key: "layers"},
			{Heading: s.Say("advice.heading.chance"), Tables: s.outcomeTables(r.Account.Outcome, r.Unsaid), Key: "outcome"},
			{Heading: s.Say("trust.heading.misses"), Tables: s.missTables(r.Misses), Key: "misses"},
		},
		Terms: Lines{s.Say("trust.heading.terms"), s.tellers()},
		Source: Lines{s.Say("advice.heading.source"), []string{
			s.Say("trust.source", say.With("n", say.Count(r.Bores)), say.With("snapshot", say.Text(r.Snapshot))),
		}},
	}
}

// inShort says what a planner needs to know, in a sentence for each part.
func (s speaker) inShort(a trust.Account) []string {
	if a == (trust.Account{}) {
		return []string{s.Say("trust.nothing")}
	}
	var out []string
	var measures []trust.Measure
	if level := a.Level; level != nil {
		out = append(out, s.shortLevel(level)...)
		measures = append(measures, level.Measures...)
	}
	if layers := a.Layers; layers != nil {
		wrong := layers.Bands[0].Wrong
		out = append(out, s.Say("trust.short.layers", say.With("share", say.Share(1-scoreOf(wrong, trust.Advisor))),
			say.With("said", say.Share(1-scoreOf(wrong, trust.Nearest)))))
		measures = append(measures, layers.Bands[0].Log)
	}
	if outcome := a.Outcome; outcome != nil {
		out = append(out, s.shortOutcome(outcome))
		measures = append(measures, outcome.Brier)
	}
	return append(out, s.beaten(measures)...)
}

func (s speaker) shortLevel(a *trust.LevelAccount) []string {
	middle := a.Measures[1]
	out := []string{s.Say("trust.short.level", say.With("length", say.Metres(scoreOf(middle, trust.Advisor))),
		say.With("depth", say.Metres(scoreOf(middle, trust.Nearest))))}
	for _, c := range a.Coverage {
		if c.Said == plannersRange {
			out = append(out, s.Say("trust.short.ranges", say.With("said", say.Share(c.Said)), say.With("share", say.Share(c.Held))))
		}
	}
	return out
}

// plannersRange is the range that every page shows.
const plannersRange = 0.8

func (s speaker) shortOutcome(a *trust.OutcomeAccount) string {
	return s.Say("trust.short.outcome", say.With("chance", say.Chance(a.MeanSaid)), say.With("n", say.Count(a.Cases)),
		say.With("share", say.Share(float64(a.Worked)/float64(a.Cases))))
}

// scoreOf is the score of one who spoke. Everybody speaks of the same cases.
func scoreOf(m trust.Measure, who geo.Code) float64 {
	for _, st := range m.Standings {
		if st.Who == who {
			return st.Score
		}
	}
	return 0
}

// beaten names who did better than the advisor beyond luck, or says that nobody did; it
// says how few the cases are where that cannot be told.
func (s speaker) beaten(measures []trust.Measure) []string {
	var by, few []string
	told := false
	for _, m := range measures {
		if m.TooFew {
			if m.Code != "score.mae" && m.Code != "score.rmse" { // they count the cases of the first
				few = append(few, s.Say(string(m.Code)+".name")+". "+s.few(m))
			}
			continue
		}
		told = true
		for _, st := range m.Standings {
			if d, ok := st.Worse.Get(); ok && d.Hi < 0 {
				by = append(by, s.Say("trust.beaten", say.With("column", say.Of(string(m.Code)+".name")), say.With("second", say.Of(string(st.Who)))))
			}
		}
	}
	switch {
	case len(by) > 0:
		return append(few, s.Say("trust.short.beaten", say.With("value", say.Text(strings.Join(by, "; ")))))
	case told:
		return append(few, s.Say("trust.short.unbeaten"))
	}
	return few
}

func (s speaker) few(m trust.Measure) string {
	return s.Say("trust.few", say.With("n", say.Count(m.Cases)), say.With("total", say.Count(m.Blocks)),
		say.With("listed", say.Count(trust.LeastCases)), say.With("known", say.Count(trust.LeastBlocks)))
}

// howChecked says which bores were hidden, and how.
func (s speaker) howChecked(r trust.Report) []string {
	var out []string
	switch r.Options.Split {
	case trust.ByBlock:
		out = append(out, s.Say("split.block", say.With("distance", say.Distance(r.Blocks.SideM)),
			say.With("n", say.Count(r.Blocks.Count)), say.With("listed", say.Count(r.Rounds))))
		if r.Blocks.SideM < r.Blocks.ReachM {
			out = append(out, s.Say("trust.narrow", say.With("distance", say.Distance(r.Blocks.ReachM))))
		}
	case trust.ByBore:
		out = append(out, s.Say("split.bore"))
	case trust.ByTime:
		out = append(out, s.Say("split.time"))
	}
	out = append(out, s.Say("trust.asked", say.With("n", say.Count(r.Asked)), say.With("total", say.Count(r.Bores))))
	return append(out, s.Say("trust.compared", say.With("n", say.Count(len(r.Cases.Levels))),
		say.With("listed", say.Count(len(r.Cases.Layers))), say.With("total", say.Count(len(r.Cases.Outcomes)))), s.Say("trust.intervals"))
}

// tellers explains the simple rules that the advisor is compared with, each once.
func (s speaker) tellers() []string {
	var out []string
	for _, who := range []geo.Code{trust.Nearest, trust.Inverse8, trust.Region, trust.Kriging, trust.Eight, trust.BaseRate} {
		out = append(out, s.Say(string(who)+".meaning"))
	}
	return out
}
