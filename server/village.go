package server

import (
	"context"
	"strings"
	"unicode/utf8"

	"waterstrike/geo"
)

// choicesShown is how many villages are offered when a name fits none or several.
const choicesShown = 12

// village finds a village by its id, its name, or the only name that holds the words. A
// name that fits none or several is an error that offers those that may be meant.
func (s *Server) village(ctx context.Context, name string) (geo.Village, error) {
	if utf8.RuneCountInString(name) > maxText {
		return geo.Village{}, geo.Fail(geo.Invalid, "server.village", geo.Say("problem.too-long"), nil)
	}
	all, err := s.Ground.Villages(ctx)
	if err != nil {
		return geo.Village{}, err
	}
	same, like := matching(all, name)
	switch {
	case len(same) == 1:
		return same[0], nil
	case len(same) == 0 && len(like) == 1:
		return like[0], nil
	case len(same) > 1:
		message := geo.Say("problem.several-villages", geo.With("n", geo.Count(len(same))), geo.With("value", geo.Text(clip(name))))
		return geo.Village{}, &choose{geo.Fail(geo.Invalid, "server.village", message, nil), first(same)}
	}
	message := geo.Say("problem.unknown-village", geo.With("value", geo.Text(clip(name))))
	if len(like) > 0 {
		message = geo.Say("problem.part-of-names", geo.With("n", geo.Count(len(like))), geo.With("value", geo.Text(clip(name))))
	}
	return geo.Village{}, &choose{geo.Fail(geo.NotFound, "server.village", message, nil), first(like)}
}

func first(villages []geo.Village) []geo.Village {
	return villages[:min(choicesShown, len(villages))]
}

// matching returns the villages of that id or name, and those whose name holds it.
func matching(all []geo.Village, name string) (same, like []geo.Village) {
	wanted := geo.FoldName(name)
	for _, v := range all {
		if string(v.ID) == name {
			return []geo.Village{v}, nil
		}
		switch has := geo.FoldName(v.Name); {
		case has == wanted:
			same = append(same, v)
		case strings.Contains(has, wanted):
			like = append(like, v)
		}
	}
	return same, like
}
