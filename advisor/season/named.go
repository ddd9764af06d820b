package season

import (
	"slices"
	"strings"

	"waterstrike/geo"
)

// named finds the villages that a list names: by ID, by name, or by name and district as
// answers write them, "Toptoro (Saptoro)". Case and accents do not matter.
func (r *Records) named(list []string) ([]string, error) {
	var out []string
	for _, text := range list {
		found := r.called(text)
		switch len(found) {
		case 0:
			return nil, r.unknown(text)
		case 1:
			out = append(out, string(found[0].ID))
		default:
			return nil, r.several(text, found)
		}
	}
	return out, nil
}

// several says by what the villages that a text may mean are told apart: by their districts
// where these do, otherwise by their IDs.
func (r *Records) several(text string, found []geo.Village) error {
	var listed, ids, seen []string
	code, in := geo.Code("season.several-villages"), r.districts()
	for _, v := range found {
		district := in.of(v.Position.Pos)
		if district == "" || slices.Contains(seen, district) {
			code = "season.several-villages-there"
		}
		seen, ids = append(seen, district), append(ids, string(v.ID))
		listed = append(listed, v.Name+" ("+district+")")
	}
	if code == "season.several-villages-there" {
		listed = ids
	}
	return fail(geo.Conflict, code, geo.With("n", geo.Count(len(found))), geo.With("value", geo.Text(text)), geo.With("listed-text", geo.Text(strings.Join(listed, ", "))))
}

// called are the villages that a text may mean.
func (r *Records) called(text string) (out []geo.Village) {
	wanted, in := geo.FoldName(text), r.districts()
	for _, v := range r.Villages {
		if string(v.ID) == text {
			return []geo.Village{v}
		}
		name := geo.FoldName(v.Name)
		if name == wanted || strings.HasPrefix(wanted, name+" (") && wanted == geo.FoldName(v.Name+" ("+in.of(v.Position.Pos)+")") {
			out = append(out, v)
		}
	}
	return out
}

// How villages are found that a wrong name may mean.
const (
	likeLetters = 4 // that a name begins with
	likeShown   = 5
)

// unknown says that no village has a name, and which have one like it.
func (r *Records) unknown(text string) error {
	wanted := []rune(geo.FoldName(text))
	var like []string
	for _, v := range r.Villages {
		name := geo.FoldName(v.Name)
		begins := strings.HasPrefix(name, string(wanted[:min(likeLetters, len(wanted))]))
		if len(wanted) > 0 && (begins || strings.Contains(name, string(wanted))) && !slices.Contains(like, v.Name) {
			like = append(like, v.Name)
		}
	}
	slices.Sort(like)
	if len(like) == 0 || len(like) > likeShown {
		return fail(geo.NotFound, "season.unknown-village", geo.With("value", geo.Text(text)))
	}
	return fail(geo.NotFound, "season.unknown-village-like", geo.With("value", geo.Text(text)), geo.With("listed-text", geo.Text(strings.Join(like, ", "))))
}

// uncounted reports that nobody wrote how many people live in a village.
func (r *Records) uncounted(id string) bool {
	return slices.ContainsFunc(r.Villages, func(v geo.Village) bool { return string(v.ID) == id && !v.People.Known() })
}
