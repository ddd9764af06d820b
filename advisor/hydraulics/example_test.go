package hydraulics_test

import (
	"fmt"

	"waterstrike/advisor/hydraulics"
)

func ExampleThiem() {
	t, _ := hydraulics.Thiem(788, hydraulics.Place{DistanceM: 30, DrawdownM: 1.088}, hydraulics.Place{DistanceM: 90, DrawdownM: 0.716})
	fmt.Printf("T = %.0f m²/d\n", t)
	// Output: T = 370 m²/d
}

func ExampleTheis() {
	sand := hydraulics.Aquifer{TM2D: 30, Storage: 0.1}
	for _, metres := range []float64{1, 10, 50} {
		s, _ := hydraulics.Theis(sand, 21.6, metres, 1.0/3)
		fmt.Printf("%.0f m away: %.3f m\n", metres, s)
	}
	// Output:
	// 1 m away: 0.310 m
	// 10 m away: 0.060 m
	// 50 m away: 0.000 m
}

func ExampleFitCooperJacob() {
	// A piezometer 30 m from a well pumped at 788 m³/d; minutes and metres.
	var readings []hydraulics.Reading
	for _, r := range [][2]float64{{18, .680}, {27, .742}, {33, .753}, {41, .779}, {48, .793}, {59, .819}, {80, .855}, {95, .873}, {139, .915}} {
		readings = append(readings, hydraulics.Reading{Days: r[0] / 1440, DrawdownM: r[1]})
	}
	f, err := hydraulics.FitCooperJacob(hydraulics.Pumping{DischargeM3D: 788, DistanceM: 30}, readings)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("T = %.0f m²/d, %.0f to %.0f\n", f.T.Value, f.T.Lo, f.T.Hi)
	// Output: T = 558 m²/d, 414 to 752
}

func ExampleFitSteps() {
	f, _ := hydraulics.FitSteps([]hydraulics.Step{{DischargeM3D: 10, DrawdownM: 0.62}, {DischargeM3D: 20, DrawdownM: 1.36}, {DischargeM3D: 30, DrawdownM: 2.25}})
	share, _ := f.Efficiency(21.6)
	fmt.Printf("the ground causes %.0f %% of the drawdown at 0.25 L/s\n", 100*share)
	// Output: the ground causes 80 % of the drawdown at 0.25 L/s
}

func ExampleBucketFills() {
	d, _ := hydraulics.BucketFills(20, []float64{34, 36, 35})
	n, _ := hydraulics.BucketsPerHour(d.LPS, 20)
	fmt.Printf("%.2f ± %.2f L/s, %.0f buckets an hour\n", d.LPS, d.Err, n)
	// Output: 0.57 ± 0.02 L/s, 103 buckets an hour
}
