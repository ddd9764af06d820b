package check

import (
	"slices"

	"waterstrike/geo"
)

// The rules on one bore.
const (
	NoPosition          geo.Code = "issue.no-position"
	PositionZero        geo.Code = "issue.position-zero"
	DepthZero           geo.Code = "issue.depth-zero"
	DepthBeyondMethod   geo.Code = "issue.depth-beyond-method"
	LevelUnderBottom    geo.Code = "issue.level-under-bottom"
	LevelZero           geo.Code = "issue.level-zero"
	LevelNotReduced     geo.Code = "issue.level-not-reduced"
	StrikeUnderBottom   geo.Code = "issue.strike-under-bottom"
	RefusalUnderBottom  geo.Code = "issue.refusal-under-bottom"
	RefusalAboveBottom  geo.Code = "issue.refusal-above-bottom"
	DryWithWater        geo.Code = "issue.dry-with-water"
	WorksButDry         geo.Code = "issue.works-but-dry"
	YieldBeyondMethod   geo.Code = "issue.yield-beyond-method"
	TwoLogs             geo.Code = "issue.two-logs"
	LayerTwice          geo.Code = "issue.layer-twice"
	LayersOverlap       geo.Code = "issue.layers-overlap"
	LayersGap           geo.Code = "issue.layers-gap"
	LayersEndEarly      geo.Code = "issue.layers-end-early"
	LayersUnderBottom   geo.Code = "issue.layers-under-bottom"
	LayersInFeet        geo.Code = "issue.layers-in-feet"
	ScreenInTight       geo.Code = "issue.screen-in-tight"
	ScreenAboveLevel    geo.Code = "issue.screen-above-level"
	ScreenDry           geo.Code = "issue.screen-dry"
	PackJoinsLayers     geo.Code = "issue.pack-joins-layers"
	SealShort           geo.Code = "issue.seal-short"
	SealAbsent          geo.Code = "issue.seal-absent"
	LiningUnderBottom   geo.Code = "issue.lining-under-bottom"
	EndBeforeStart      geo.Code = "issue.end-before-start"
	DateInFuture        geo.Code = "issue.date-in-future"
	DatePlaceholder     geo.Code = "issue.date-placeholder"
	LevelBeforeHole     geo.Code = "issue.level-before-hole"
	SampleBeforeHole    geo.Code = "issue.sample-before-hole"
	WorkTooLong         geo.Code = "issue.work-too-long"
	LevelUnderStrike    geo.Code = "issue.level-under-strike"
	YieldAgainstOutcome geo.Code = "issue.yield-against-outcome"
	LayersUpsideDown    geo.Code = "issue.layers-upside-down"
	DiameterOff         geo.Code = "issue.diameter-off"
	BoreRoundInFeet     geo.Code = "issue.bore-round-in-feet"
)

// The rules across records.
const (
	PositionSwapped  geo.Code = "issue.position-swapped"
	PositionSignLost geo.Code = "issue.position-sign-lost"
	PositionFar      geo.Code = "issue.position-far-from-village"
	PositionOutside  geo.Code = "issue.position-outside"
	PositionAlone    geo.Code = "issue.position-alone"
	PositionShared   geo.Code = "issue.position-shared"
	SameBore         geo.Code = "issue.same-bore"
	SameBoreUnplaced geo.Code = "issue.same-bore-unplaced"
	LevelOutlier     geo.Code = "issue.level-outlier"
	LevelTenth       geo.Code = "issue.level-tenth"
	DepthOutlier     geo.Code = "issue.depth-outlier"
	GroundOutlier    geo.Code = "issue.ground-outlier"
	GroundOffTerrain geo.Code = "issue.ground-off-terrain"
	BoreInFeet       geo.Code = "issue.bore-in-feet"
	LogAbsent        geo.Code = "issue.log-absent"
	LevelAbsent      geo.Code = "issue.level-absent"
	MonthAbsent      geo.Code = "issue.month-absent"
	JanuaryFirst     geo.Code = "issue.january-first"
	DepthsHeaped     geo.Code = "issue.depths-heaped"
	SourceInFeet     geo.Code = "issue.source-in-feet"
	SourceOffset     geo.Code = "issue.source-offset"
	VillageOther     geo.Code = "issue.village-other"
	PositionRounded  geo.Code = "issue.position-rounded"
	SourceRounded    geo.Code = "issue.source-rounded"
	SourceFromFeet   geo.Code = "issue.source-from-feet"
	SameLog          geo.Code = "issue.same-log"
	DateAlone        geo.Code = "issue.date-alone"
	YieldOutlier     geo.Code = "issue.yield-outlier"
	SourceSameDay    geo.Code = "issue.source-same-day"
	SourceYield      geo.Code = "issue.source-yield"
)

// Where the rules come from.
const (
	contradiction geo.Code = "rule.contradiction"   // two statements that cannot both be true
	practice      geo.Code = "rule.common-practice" // no written source
	sealCode      geo.Code = "rule.sanitary-seal"   // RWSN Code of Practice 2010, from memory: seal of 3 m at least
	packCode      geo.Code = "rule.pack-height"     // US Army TI 814-01: pack never above the top of the aquifer
	handLimit     geo.Code = "rule.hand-limit"      // Fussi et al. 2017: 50 m realistic, 100 m in rare cases
	robustZ       geo.Code = "rule.robust-z"        // Iglewicz and Hoaglin 1993, from memory: median and MAD; the limit is stricter here
)

// Rule is one thing that is looked for. The catalogue holds its sentence under Code, its
// short name under Code with ".name", and the text of Source.
type Rule struct {
	Code     geo.Code     `json:"code"`
	Severity geo.Severity `json:"severity"`
	Source   geo.Code     `json:"source"`
}

var table = []Rule{
	{NoPosition, geo.Doubt, practice},
	{PositionZero, geo.Doubt, practice},
	{PositionSwapped, geo.Doubt, practice},
	{PositionSignLost, geo.Doubt, practice},
	{PositionFar, geo.Doubt, practice},
	{PositionOutside, geo.Doubt, practice},
	{PositionAlone, geo.Doubt, practice},
	{PositionShared, geo.Note, practice},
	{PositionRounded, geo.Doubt, practice},
	{SourceRounded, geo.Doubt, practice},
	{VillageOther, geo.Doubt, contradiction},
	{SameBore, geo.Doubt, practice},
	{SameBoreUnplaced, geo.Doubt, practice},
	{SameLog, geo.Doubt, practice},
	{EndBeforeStart, geo.Doubt, contradiction},
	{DateInFuture, geo.Doubt, contradiction},
	{DatePlaceholder, geo.Doubt, practice},
	{DateAlone, geo.Doubt, practice},
	{WorkTooLong, geo.Doubt, practice},
	{LevelBeforeHole, geo.Doubt, contradiction},
	{SampleBeforeHole, geo.Doubt, contradiction},
	{MonthAbsent, geo.Note, practice},
	{JanuaryFirst, geo.Doubt, practice},
	{SourceSameDay, geo.Doubt, practice},
	{DepthZero, geo.Doubt, contradiction},
	{DepthBeyondMethod, geo.Doubt, handLimit},
	{DepthOutlier, geo.Doubt, robustZ},
	{DepthsHeaped, geo.Note, practice},
	{RefusalUnderBottom, geo.Doubt, contradiction},
	{RefusalAboveBottom, geo.Note, practice},
	{LevelUnderBottom, geo.Doubt, contradiction},
	{LevelUnderStrike, geo.Doubt, practice},
	{LevelZero, geo.Doubt, practice},
	{LevelNotReduced, geo.Doubt, contradiction},
	{LevelOutlier, geo.Doubt, robustZ},
	{LevelTenth, geo.Doubt, practice},
	{LevelAbsent, geo.Note, practice},
	{StrikeUnderBottom, geo.Doubt, contradiction},
	{DryWithWater, geo.Doubt, contradiction},
	{WorksButDry, geo.Doubt, contradiction},
	{YieldBeyondMethod, geo.Doubt, practice},
	{YieldAgainstOutcome, geo.Doubt, practice},
	{YieldOutlier, geo.Doubt, practice},
	{SourceYield, geo.Doubt, practice},
	{TwoLogs, geo.Doubt, contradiction},
	{LayerTwice, geo.Note, practice},
	{LayersOverlap, geo.Doubt, contradiction},
	{LayersGap, geo.Note, practice},
	{LayersEndEarly, geo.Doubt, practice},
	{LayersUnderBottom, geo.Doubt, contradiction},
	{LayersInFeet, geo.Doubt, practice},
	{LayersUpsideDown, geo.Doubt, practice},
	{LogAbsent, geo.Doubt, practice},
	{LiningUnderBottom, geo.Doubt, contradiction},
	{DiameterOff, geo.Doubt, practice},
	{ScreenInTight, geo.Note, practice},
	{ScreenAboveLevel, geo.Note, practice},
	{ScreenDry, geo.Doubt, contradiction},
	{PackJoinsLayers, geo.Note, packCode},
	{SealShort, geo.Note, sealCode},
	{SealAbsent, geo.Note, sealCode},
	{GroundOutlier, geo.Doubt, robustZ},
	{GroundOffTerrain, geo.Doubt, practice},
	{BoreInFeet, geo.Doubt, practice},
	{BoreRoundInFeet, geo.Doubt, practice},
	{SourceInFeet, geo.Doubt, practice},
	{SourceFromFeet, geo.Note, practice},
	{SourceOffset, geo.Note, practice},
}

// Rules lists every rule, by what it looks at.
func Rules() []Rule { return slices.Clone(table) }

// issueOf builds an issue of the rule with that code.
func issueOf(code geo.Code, args ...geo.Arg) geo.Issue {
	at := slices.IndexFunc(table, func(r Rule) bool { return r.Code == code })
	return geo.Issue{Severity: table[at].Severity, Message: geo.Say(code, args...)}
}
