package store

import (
	"cmp"
	"context"
	"slices"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

var sitings = record[geo.Siting]{
	table: table[geo.Siting]{
		name: "siting",
		fields: slices.Concat(
			[]field[geo.Siting]{
				text("id", func(v *geo.Siting) *geo.SitingID { return &v.ID }),
				text("place", func(v *geo.Siting) *string { return &v.Place }),
			},
			inside(func(v *geo.Siting) *coord.Reading { return &v.Position }, reading()...),
			[]field[geo.Siting]{
				maybeDate("visited_on", func(v *geo.Siting) *geo.Opt[geo.Date] { return &v.On }),
				text("access", func(v *geo.Siting) *string { return &v.Access }),
				text("consent", func(v *geo.Siting) *geo.Answer { return &v.Consent }),
				text("consent_by", func(v *geo.Siting) *string { return &v.ConsentBy }),
				maybeNumber("flood_m", func(v *geo.Siting) *geo.Opt[float64] { return &v.FloodM }),
				text("services", func(v *geo.Siting) *geo.Answer { return &v.Services }),
				text("services_by", func(v *geo.Siting) *string { return &v.ServicesBy }),
				text("ordnance", func(v *geo.Siting) *geo.Clearance { return &v.Ordnance }),
				text("ordnance_by", func(v *geo.Siting) *string { return &v.OrdnanceBy }),
				text("remarks", func(v *geo.Siting) *string { return &v.Remarks }),
			},
			inside(func(v *geo.Siting) *geo.Provenance { return &v.Source }, provenance()...),
		),
		parts: []part[geo.Siting]{
			&parts[geo.Siting, geo.Nearby]{nearby, func(v *geo.Siting) *[]geo.Nearby { return &v.Near }},
		},
	},
	source: func(v *geo.Siting) *geo.Provenance { return &v.Source },
	id:     func(v *geo.Siting) string { return string(v.ID) },
	label:  func(v *geo.Siting) string { return cmp.Or(v.Place, string(v.ID)) },
	check:  geo.NewSiting,
}

var nearby = table[geo.Nearby]{
	name: "nearby", parent: "siting_fid", keys: []string{"kind", "distance_m"},
	fields: []field[geo.Nearby]{
		text("kind", func(v *geo.Nearby) *geo.NearKind { return &v.Kind }),
		maybeNumber("distance_m", func(v *geo.Nearby) *geo.Opt[float64] { return &v.DistanceM }),
		maybeNumber("bearing_deg", func(v *geo.Nearby) *geo.Opt[float64] { return &v.BearingDeg }),
		maybeNumber("depth_m", func(v *geo.Nearby) *geo.Opt[float64] { return &v.DepthM }),
		maybe("dry_months", func(v *geo.Nearby) *geo.Opt[geo.MonthSet] { return &v.DryMonths }, putMonths, monthsOf),
		text("said_by", func(v *geo.Nearby) *string { return &v.SaidBy }),
		text("words", func(v *geo.Nearby) *string { return &v.Words }),
		text("point_id", func(v *geo.Nearby) *geo.WaterPointID { return &v.PointID }),
	},
}

// Sitings calls fn with every siting visit, in the order of their ids.
func (b *Base) Sitings(ctx context.Context, fn func(geo.Siting) error) error {
	return each(ctx, b, sitings, everything, fn)
}

// Siting returns one siting visit; [geo.NotFound] when it is hidden or was never here.
func (b *Base) Siting(ctx context.Context, id geo.SitingID) (geo.Siting, error) {
	return one(ctx, b, sitings, string(id))
}

// ReceiveSiting saves a siting visit as [Base.ReceiveBore] saves a bore, and with it the
// water points that its dug wells are: all or none.
func (b *Base) ReceiveSiting(ctx context.Context, v geo.Siting, points []geo.WaterPoint, sent Sent, why Why) (Received, error) {
	return receiveRecord(ctx, b, sitings, v, sent, why, func(s *session) error {
		for _, w := range points {
			if _, err := save(s, waterPoints, w); err != nil {
				return err
			}
		}
		return nil
	})
}
