package hydraulics

import "math"

// Discharge is a rate measured by hand.
type Discharge struct {
	LPS float64 // litres a second
	Err float64 // standard error of LPS
}

// M3D returns the discharge in cubic metres a day.
//
//   - Units: m³/d.
//   - Source: 1 L/s = 86.4 m³/d.
//   - Checked by: TestBuckets.
func (d Discharge) M3D() float64 { return d.LPS * secondsPerDay / 1000 }

const secondsPerDay = 86400

// How well a hand measures: the volume of a bucket filled to its brim, and the second at
// which a watch is stopped; common practice, no source.
const (
	bucketShare = 0.03
	watchS      = 0.5
)

// BucketFills returns the discharge from the times that a bucket took to fill.
//
//   - Shapes: one time at least; with two or more their scatter counts as well.
//   - Units: litres, seconds.
//   - Domain: all above 0.
//   - Errors: [InputError], [ErrTooFew], [ErrNoAnswer].
//   - Source: volume over time; the error of bucket and watch is common practice.
//   - Checked by: TestBuckets, ExampleBucketFills.
func BucketFills(litres float64, seconds []float64) (Discharge, error) {
	if len(seconds) == 0 {
		return Discharge{}, ErrTooFew
	}
	if err := positive(named{"bucket", litres}); err != nil {
		return Discharge{}, err
	}
	for _, s := range seconds {
		if err := positive(named{"seconds", s}); err != nil {
			return Discharge{}, err
		}
	}
	n, middle := float64(len(seconds)), mean(seconds)
	scatter := 0.0
	for _, s := range seconds {
		scatter += (s - middle) * (s - middle) / max(1, n-1)
	}
	return measured(litres/middle, math.Sqrt((scatter+watchS*watchS)/n)/middle)
}

// BucketCount returns the discharge from how many buckets were filled in a time.
//
//   - Units: litres, minutes; buckets may be a part of one.
//   - Domain: all above 0.
//   - Errors: [InputError], [ErrNoAnswer].
//   - Source: volume over time; the last bucket is known to a part of one, evenly spread,
//     so that its standard error is 1/√12.
//   - Checked by: TestBuckets.
func BucketCount(buckets, litres, minutes float64) (Discharge, error) {
	if err := positive(named{"buckets", buckets}, named{"bucket", litres}, named{"minutes", minutes}); err != nil {
		return Discharge{}, err
	}
	seconds := minutes * 60
	return measured(buckets*litres/seconds, math.Hypot(1/(math.Sqrt(12)*buckets), watchS/seconds))
}

func measured(lps, share float64) (Discharge, error) {
	d := Discharge{LPS: lps, Err: lps * math.Hypot(bucketShare, share)}
	if !(d.LPS > 0) {
		return Discharge{}, ErrNoAnswer
	}
	_, err := finite(d.LPS*secondsPerDay + d.Err)
	return d, err
}

// BucketsPerHour returns how many buckets a discharge fills in an hour, as villagers count.
//
//   - Units: L/s, litres; result a number of buckets.
//   - Domain: both above 0.
//   - Errors: [InputError], [ErrNoAnswer].
//   - Source: volume over time.
//   - Checked by: TestBuckets.
func BucketsPerHour(lps, litres float64) (float64, error) {
	if err := positive(named{"discharge", lps}, named{"bucket", litres}); err != nil {
		return 0, err
	}
	return finite(lps * 3600 / litres)
}
