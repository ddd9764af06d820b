package say_test

import (
	"fmt"

	"waterstrike/ui/say"
)

// One message, three languages: each with its own decimal mark.
func Example() {
	c, err := say.New()
	if err != nil {
		fmt.Println(err)
		return
	}
	m := say.Msg("layers.row",
		say.With("from", say.Metres(2.5)),
		say.With("to", say.Metres(6)),
		say.With("class", say.Of("class.sand-coarse")),
		say.With("chance", say.Chance(0.62)))
	for _, l := range say.Langs() {
		fmt.Println(plain(c.Say(l, m)))
	}
	// Output:
	// 2.5~m to 6.0~m: coarse sand (62%)
	// 2,5~m à 6,0~m~: sable grossier (62_%)
	// 2,5~m a 6,0~m: areia grossa (62%)
}
