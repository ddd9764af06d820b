package server

import (
	"context"

	"waterstrike/advisor"
	"waterstrike/advisor/livehole"
	"waterstrike/advisor/trust"
	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
	"waterstrike/geo/arrival"
	"waterstrike/geo/coord"
	"waterstrike/geo/store"
	"waterstrike/server/sheet"
	"waterstrike/server/tile"

	"github.com/paulmach/orb"
)

// Advisor answers questions.
type Advisor interface {
	// Advise returns [geo.NotFound] when the base holds no bore with a position, and the
	// context's error when it ends.
	Advise(ctx context.Context, q advisor.Question) (advisor.Advice, error)
}

// Ground lists what the maps and the list of villages show. What it returns is shared and
// not changed by the caller.
type Ground interface {
	// State names the state of everything below; another state, another name.
	State(ctx context.Context) (string, error)
	// Villages returns all villages, the most important first: names that do not fit on a
	// map are left out from the end.
	Villages(ctx context.Context) ([]geo.Village, error)
	// Bores returns at most limit bores of a box in degrees, the same ones for the same
	// box and state, and how many lie in it.
	Bores(ctx context.Context, box orb.Bound, limit int) (shown []sheet.MapBore, total int, err error)
	// Outcomes counts all bores by outcome.
	Outcomes(ctx context.Context) (map[geo.Outcome]int, error)
	// Boundaries returns the outlines of the programme's area.
	Boundaries(ctx context.Context) ([]geo.Boundary, error)
	// Rivers returns the lines of surface water.
	Rivers(ctx context.Context) ([]geo.River, error)
}

// Atlas is what the map is cut from. What it returns is shared and not changed by the
// caller.
type Atlas interface {
	// Arranged returns the bores of the present state, arranged for tiles and lists.
	Arranged(ctx context.Context) (*tile.Bores, error)
	// Places returns what else there is on the land, arranged for tiles.
	Places(ctx context.Context) (*tile.Places, error)
	// Relief returns the shape of the land; nil where it is not known, or not yet.
	Relief() *tile.Relief
	// Along asks at places along a line and gathers the bores within asideM of it; deepM
	// is how far below the ground it looks.
	Along(ctx context.Context, from, to coord.LonLat, asideM, deepM float64) (sheet.Line, error)
	// Charts returns the maps in pictures that others made.
	Charts() []Chart
}

// Chart is a map in pictures that somebody else made.
type Chart struct {
	Name, Attribution string // in plain text
	Bound             orb.Bound
	Least, Most       int // zooms that it has
	Pictures          Pictures
}

// Pictures are the tiles of a chart.
type Pictures interface {
	// Picture returns a tile and its media type; [geo.NotFound] where there is none.
	Picture(ctx context.Context, z, x, y int) (body []byte, media string, err error)
}

// Intake takes files of others in, step by step; what takes its time is done behind the
// answers. Its errors are [geo.NotFound] for what is not there, [geo.Conflict] for what is
// not to be done now, [geo.Invalid] for what cannot come in.
type Intake interface {
	// Receive keeps files that are handed in together and starts to look at them.
	Receive(by string, next arrival.Next) (arrival.Arrival, error)
	// Arrivals returns what waits to be taken in, the newest first.
	Arrivals() ([]arrival.Arrival, error)
	// Arrival returns one of them, or one that was taken in lately.
	Arrival(id string) (arrival.Arrival, error)
	// Look starts to look at the files again from the beginning.
	Look(id string) error
	// Match starts to look at the columns again with what a person decided.
	Match(id string, decided arrival.Decided) error
	// Read starts to read the files into a draft.
	Read(id string, decided arrival.Decided) error
	// Findings returns rows of a draft with what is wrong with them, and how many there are.
	Findings(ctx context.Context, id string, sought arrival.Sought) ([]arrival.Finding, int, error)
	// Apply starts to take a draft into the base.
	Apply(id, who string, fileWins bool) error
	// Discard throws an arrival away.
	Discard(id string) error
	// Imports returns what was taken in, the newest first.
	Imports(ctx context.Context) ([]arrival.Import, error)
	// TakeBack starts to undo a whole import.
	TakeBack(ctx context.Context, batch, who string) error
}

// Learner says what the answers were learnt from.
type Learner interface {
	// Fits returns the report of the models that the present answers come from.
	Fits(ctx context.Context) (advisor.Fits, error)
}

// Packer makes what is taken along to an open hole.
type Packer interface {
	// Pack returns [geo.TooFewData] where the evidence does not bear one, and otherwise fails
	// as Advise does.
	Pack(ctx context.Context, q advisor.Question) (livehole.Pack, error)
}

// Surveyor works surfaces out.
type Surveyor interface {
	// Surface is [advisor.Advisor.Surface] of the present state, and names that state.
	Surface(ctx context.Context, q advisor.SurfaceQuestion) (spots []advisor.Spot, state string, err error)
	// SurfaceMethods lists the drilling methods that surfaces are worked out for.
	SurfaceMethods() []geo.Method
}

// Judge takes the account of how the advice keeps its word.
type Judge interface {
	// Judge hides bores of the present state and asks about them, which takes up to
	// minutes; it tells how far it is, and returns the context's error when it ends.
	Judge(ctx context.Context, progress trust.Progress) (trust.Report, error)
}

// Records are the bores one by one, with their history; [store.Base] keeps them.
type Records interface {
	// Bore returns [geo.NotFound] for one that is hidden or was never here.
	Bore(ctx context.Context, id geo.BoreID) (geo.Bore, error)
	// Told returns everything that was ever done to a record, in words.
	Told(ctx context.Context, id string) ([]store.Telling, error)
	// IssuesOf returns what was found in a record when it was imported.
	IssuesOf(ctx context.Context, record string) ([]geo.Issue, error)
	// ReceiveBore saves a bore that was sent; [geo.Conflict] when it has moved on.
	ReceiveBore(ctx context.Context, b geo.Bore, sent store.Sent, why store.Why) (store.Received, error)
	// Siting returns [geo.NotFound] for a visit that is hidden or was never here.
	Siting(ctx context.Context, id geo.SitingID) (geo.Siting, error)
	// ReceiveSiting saves a visit that was sent, with the water points that it tells of.
	ReceiveSiting(ctx context.Context, v geo.Siting, points []geo.WaterPoint, sent store.Sent, why store.Why) (store.Received, error)
	// Undo takes a change back, [geo.Conflict] when something came after it.
	Undo(ctx context.Context, seq int64, why store.Why) error
	// Hide takes a record out of sight, a siting visit with its wells; Restore brings it back.
	Hide(ctx context.Context, id string, why store.Why) error
	Restore(ctx context.Context, id string, why store.Why) error
}

// Trade is what the programme's rules say of finished bores.
type Trade interface {
	// Review holds a bore as it was built to the rules that wells are designed by.
	Review(b geo.Bore) []geo.Issue
	// Apart lists how far wells stay from what may foul them.
	Apart() []welldesign.Distance
	// Visits returns the siting visits to a point and its surroundings, the nearest first.
	Visits(ctx context.Context, at coord.LonLat) ([]sheet.Visit, error)
	// Methods lists the drilling methods in use, the programme's own among them.
	Methods() []geo.Method
}
