package publish

import "waterstrike/geo"

// testColumns are all but the readings, which have a table of their own.
func testColumns() []column[geo.PumpTest] {
	return []column[geo.PumpTest]{
		token("kind", "kind", func(t *geo.PumpTest) geo.TestKind { return t.Kind }),
		openDate("tested_on", "on", func(t *geo.PumpTest) geo.Opt[geo.Date] { return t.On }),
		openFigure("rate_lps", "rateLps", func(t *geo.PumpTest) geo.Opt[float64] { return t.RateLPS }),
		openFigure("hours", "hours", func(t *geo.PumpTest) geo.Opt[float64] { return t.Hours }),
		openFigure("rest_m", "restM", func(t *geo.PumpTest) geo.Opt[float64] { return t.RestM }),
		openFigure("pumping_m", "pumpingM", func(t *geo.PumpTest) geo.Opt[float64] { return t.PumpingM }),
		openFigure("bail_l", "bailL", func(t *geo.PumpTest) geo.Opt[float64] { return t.BailL }),
		openFigure("half_min", "halfMin", func(t *geo.PumpTest) geo.Opt[float64] { return t.HalfMin }),
		openFigure("three_q_min", "threeQMin", func(t *geo.PumpTest) geo.Opt[float64] { return t.ThreeQMin }),
		text("remarks", "remarks", func(t *geo.PumpTest) string { return t.Remarks }),
	}
}

func testReadingColumns() []column[geo.TestReading] {
	return []column[geo.TestReading]{
		figure("minutes", "minutes", func(r *geo.TestReading) float64 { return r.Minutes }),
		figure("depth_m", "depthM", func(r *geo.TestReading) float64 { return r.DepthM }),
		openFigure("rate_lps", "rateLps", func(r *geo.TestReading) geo.Opt[float64] { return r.RateLPS }),
	}
}

func sampleColumns() []column[geo.Sample] {
	return []column[geo.Sample]{
		text("analyte", "analyte", func(s *geo.Sample) string { return s.Analyte }),
		text("basis", "basis", func(s *geo.Sample) string { return s.Basis }),
		text("unit", "unit", func(s *geo.Sample) string { return s.Unit }),
		openFigure("value", "value", func(s *geo.Sample) geo.Opt[float64] { return s.Value }),
		openFigure("detection_limit", "detectionLimit", func(s *geo.Sample) geo.Opt[float64] { return s.DetectionLimit }),
		openDate("sampled_on", "on", func(s *geo.Sample) geo.Opt[geo.Date] { return s.On }),
		text("laboratory", "laboratory", func(s *geo.Sample) string { return s.Laboratory }),
		text("waived_by", "waivedBy", func(s *geo.Sample) string { return s.WaivedBy }),
		text("reason", "reason", func(s *geo.Sample) string { return s.Reason }),
	}
}
