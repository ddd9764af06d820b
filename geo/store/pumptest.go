package store

import "waterstrike/geo"

var tests = table[geo.PumpTest]{
	name: "test", parent: "bore_fid", keys: []string{"kind", "tested_on"},
	fields: []field[geo.PumpTest]{
		text("kind", func(t *geo.PumpTest) *geo.TestKind { return &t.Kind }),
		maybeDate("tested_on", func(t *geo.PumpTest) *geo.Opt[geo.Date] { return &t.On }),
		maybeNumber("rate_lps", func(t *geo.PumpTest) *geo.Opt[float64] { return &t.RateLPS }),
		maybeNumber("hours", func(t *geo.PumpTest) *geo.Opt[float64] { return &t.Hours }),
		maybeNumber("rest_m", func(t *geo.PumpTest) *geo.Opt[float64] { return &t.RestM }),
		maybeNumber("pumping_m", func(t *geo.PumpTest) *geo.Opt[float64] { return &t.PumpingM }),
		maybeNumber("bail_l", func(t *geo.PumpTest) *geo.Opt[float64] { return &t.BailL }),
		maybeNumber("half_min", func(t *geo.PumpTest) *geo.Opt[float64] { return &t.HalfMin }),
		maybeNumber("three_q_min", func(t *geo.PumpTest) *geo.Opt[float64] { return &t.ThreeQMin }),
		text("remarks", func(t *geo.PumpTest) *string { return &t.Remarks }),
	},
	parts: []part[geo.PumpTest]{
		&parts[geo.PumpTest, geo.TestReading]{testReadings, func(t *geo.PumpTest) *[]geo.TestReading { return &t.Readings }},
	},
}

var testReadings = table[geo.TestReading]{
	name: "test_reading", parent: "test_fid", keys: []string{"minutes"},
	fields: []field[geo.TestReading]{
		number("minutes", func(r *geo.TestReading) *float64 { return &r.Minutes }),
		number("depth_m", func(r *geo.TestReading) *float64 { return &r.DepthM }),
		maybeNumber("rate_lps", func(r *geo.TestReading) *geo.Opt[float64] { return &r.RateLPS }),
	},
}

var samples = table[geo.Sample]{
	name: "sample", parent: "bore_fid", keys: []string{"analyte", "sampled_on"},
	fields: []field[geo.Sample]{
		text("analyte", func(s *geo.Sample) *string { return &s.Analyte }),
		text("basis", func(s *geo.Sample) *string { return &s.Basis }),
		text("unit", func(s *geo.Sample) *string { return &s.Unit }),
		maybeNumber("value", func(s *geo.Sample) *geo.Opt[float64] { return &s.Value }),
		maybeNumber("detection_limit", func(s *geo.Sample) *geo.Opt[float64] { return &s.DetectionLimit }),
		maybeDate("sampled_on", func(s *geo.Sample) *geo.Opt[geo.Date] { return &s.On }),
		text("laboratory", func(s *geo.Sample) *string { return &s.Laboratory }),
		text("waived_by", func(s *geo.Sample) *string { return &s.WaivedBy }),
		text("reason", func(s *geo.Sample) *string { return &s.Reason }),
	},
}
