package sheet

import (
	"io"

	"waterstrike/advisor/programme"
	"waterstrike/advisor/season"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/ui/draw"
	"waterstrike/ui/say"
)

// NewSeasonPage says a season's programme in a language and maps it.
func NewSeasonPage(c *say.Catalogue, l say.Lang, x *season.Season) (Account, error) {
	where, err := SeasonMap(c, l, x)
	if err != nil {
		return Account{}, geo.Fail(geo.Internal, "sheet.NewSeasonPage", geo.Message{}, err)
	}
	return NewSeason(c, l, x).drawn([]AccountDrawing{{Name: "season-map", Scene: where, part: "chosen"}})
}

// SeasonFile writes a season's programme as one HTML file that needs no other. Nothing in it
// leads to an advice, which only the server gives.
func SeasonFile(w io.Writer, c *say.Catalogue, l say.Lang, x *season.Season) error {
	page, err := NewSeasonPage(c, l, x)
	if err != nil {
		return err
	}
	for _, part := range page.Parts {
		for _, t := range part.Tables {
			t.leadNowhere()
		}
	}
	return page.file(w, c, l)
}

// SeasonPDF writes a season's programme as a PDF for A4: what is chosen, where, and what it
// comes to. Other programmes and why villages are out are left to the screen. The same season
// gives the same bytes: it bears the day at which needs were counted.
func SeasonPDF(w io.Writer, c *say.Catalogue, l say.Lang, x *season.Season) error {
	where, err := SeasonMap(c, l, x)
	if err != nil {
		return geo.Fail(geo.Internal, "sheet.SeasonPDF", geo.Message{}, err)
	}
	page := NewSeason(c, l, x)
	page.Parts = page.Parts[:2] // villages and spots; weeks and districts
	for _, part := range page.Parts {
		for _, t := range part.Tables {
			t.leadNowhere()
		}
	}
	return page.pdf(w, speaker{c, l}, []AccountDrawing{{Name: "season-map", Scene: where, part: "chosen"}}, dayOn(x.Wishes.On))
}

// SeasonMap maps which villages were chosen, by their numbers in the programme, which were
// left out, and where nobody is in need.
func SeasonMap(c *say.Catalogue, l say.Lang, x *season.Season) (draw.Scene, error) {
	s := newSeasonSpeaker(c, l, x)
	plane := coord.NewPlane(x.Villages[0].At)
	mark := func(v season.Village) draw.MapVillage {
		xy := plane.XY(v.At)
		return draw.MapVillage{At: draw.Point{X: xy.X, Y: xy.Y}, Name: v.Name}
	}
	var d draw.ChoiceMap
	in := map[string]bool{}
	for _, p := range s.order() {
		in[p.Village] = true
		d.Chosen = append(d.Chosen, mark(s.of[p.Village]))
	}
	for _, v := range x.Villages {
		switch {
		case in[v.ID]:
		case v.Unserved > 0:
			d.LeftOut = append(d.LeftOut, mark(v))
		default:
			d.NoNeed = append(d.NoNeed, mark(v))
		}
	}
	d.LeftOut, d.NoNeed = apart(d.LeftOut), apart(d.NoNeed)
	d.Outline, d.Names = outlines(plane, x.Boundaries)
	return draw.Choices(d, draw.MapOptions{
		WidthMM: plotMM, HeightMM: plotMM, ID: "season-map-", Title: s.Say("plot.season-map.title"), Desc: s.Say("plot.season-map.desc"),
		North: s.Say("drawing.north"), Distance: s.distance,
		Words: map[string]string{
			"choice.chosen": s.Say("plot.choice.chosen"), "choice.left-out": s.Say("plot.choice.left-out"), "choice.no-need": s.Say("plot.choice.no-need"),
			"boundary": s.Say("drawing.boundary"),
		},
	})
}

// apart keeps, of more villages than can be drawn one by one, the first in each square of a
// grid, 60 along the longer side.
func apart(all []draw.MapVillage) (out []draw.MapVillage) {
	if len(all) <= mostVessels {
		return all
	}
	low, high := all[0].At, all[0].At
	for _, v := range all {
		low = draw.Point{X: min(low.X, v.At.X), Y: min(low.Y, v.At.Y)}
		high = draw.Point{X: max(high.X, v.At.X), Y: max(high.Y, v.At.Y)}
	}
	side := max(high.X-low.X, high.Y-low.Y, 1) / 60
	taken := map[[2]int]bool{}
	for _, v := range all {
		square := [2]int{int((v.At.X - low.X) / side), int((v.At.Y - low.Y) / side)}
		if !taken[square] {
			taken[square] = true
			out = append(out, v)
		}
	}
	return out
}

// adviceOn is where the advice at the spot of an attempt stands on the server.
func (s seasonSpeaker) adviceOn(a programme.Attempt, of season.Village) string {
	for _, x := range of.Spots {
		if x.Name == a.Spot {
			return AdviceAt(x.At, a.Method, s.lang)
		}
	}
	return ""
}
