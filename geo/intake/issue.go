package intake

import "waterstrike/geo"

// The codes of issues that an intake raises. Their arguments are "field", the column's
// own name, and "value", the text as read.
const (
	MissingPosition  geo.Code = "issue.missing-position"
	PlaceIsVillage   geo.Code = "issue.place-is-village"
	PlacedAtVillage  geo.Code = "issue.placed-at-village"
	UnplacedVillage  geo.Code = "issue.unplaced-village"
	NoSuchVillage    geo.Code = "issue.no-such-village"
	BadPosition      geo.Code = "issue.bad-position"
	OutsideBoundary  geo.Code = "issue.outside-boundary"
	BadNumber        geo.Code = "issue.bad-number"
	TextInNumber     geo.Code = "issue.text-in-number-column"
	UnknownUnit      geo.Code = "issue.unknown-unit"
	BadDate          geo.Code = "issue.bad-date"
	OtherCalendar    geo.Code = "issue.other-calendar"
	NegativeCount    geo.Code = "issue.negative-count"
	BrokenCount      geo.Code = "issue.broken-count"
	CountOutOfRange  geo.Code = "issue.count-out-of-range"
	NegativeDepth    geo.Code = "issue.negative-depth"
	DepthOutOfRange  geo.Code = "issue.depth-out-of-range"
	YieldOutOfRange  geo.Code = "issue.yield-out-of-range"
	SampleOutOfRange geo.Code = "issue.sample-out-of-range"
	UnknownValue     geo.Code = "issue.unknown-value"
	BadEncoding      geo.Code = "issue.bad-encoding"
	Flowing          geo.Code = "issue.flowing"
	LevelBelowHole   geo.Code = "issue.level-below-hole"
	DryWithoutDepth  geo.Code = "issue.dry-without-depth"
	UnknownSoilWord  geo.Code = "issue.unknown-soil-word"
	NoDescription    geo.Code = "issue.no-description"
	LayerUpsideDown  geo.Code = "issue.layer-base-above-top"
	LayerOverlap     geo.Code = "issue.layer-overlap"
	LayerGap         geo.Code = "issue.layer-gap"
	DuplicateRow     geo.Code = "issue.duplicate-row"
	VillageTwice     geo.Code = "issue.village-twice"
	VisitTwice       geo.Code = "issue.visit-twice"
	PointTwice       geo.Code = "issue.point-twice"
	RepeatDiffers    geo.Code = "issue.repeat-differs"
	UnmatchedParent  geo.Code = "issue.unmatched-parent"
	NoKey            geo.Code = "issue.no-key"
	KeyFromRow       geo.Code = "issue.key-from-row"
	MissingValue     geo.Code = "issue.missing-value"
	WrongColumnCount geo.Code = "issue.wrong-column-count"
	UnreadableRow    geo.Code = "issue.unreadable-row"
	UnclaimedRow     geo.Code = "issue.unclaimed-row"
	InvalidRecord    geo.Code = "issue.invalid-record"
	NoBasis          geo.Code = "issue.no-basis"
	NoDetectionLimit geo.Code = "issue.no-detection-limit"
	LowerBound       geo.Code = "issue.lower-bound"
)

// maxQuote bounds the text an issue repeats, bytes.
const maxQuote = 200

func message(code geo.Code, field, value string) geo.Message {
	return geo.Say(code, geo.With("field", geo.Text(field)), geo.With("value", geo.Text(value)))
}
