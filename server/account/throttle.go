package account

import (
	"math"
	"sync"
	"time"
)

// allowance is how many attempts may fail at once, and after which time another is
// allowed.
type allowance struct {
	burst float64
	every time.Duration
}

// The allowances. A person who mistypes never meets them; guessing a password of the least
// length at these rates is hopeless. A name has an allowance of its own against guessing
// from many places, wide enough that its owner is hardly kept out by others.
var (
	ofPlace       = allowance{30, 10 * time.Second}
	ofName        = allowance{60, 20 * time.Second}
	ofNameAtPlace = allowance{8, time.Minute}
)

// throttle counts failed attempts. It forgets them when the program ends, which only the
// one who runs it can bring about.
type throttle struct {
	mutex   sync.Mutex
	buckets map[string]*bucket
	sweepAt int // buckets, when to look for those that are full again
}

type bucket struct {
	allowance
	left float64
	seen time.Time
}

const fewBuckets = 1024

func newThrottle() *throttle {
	return &throttle{buckets: map[string]*bucket{}, sweepAt: fewBuckets}
}

// attempt takes one attempt out of each allowance, or none and returns how long to wait.
// Whether there is a person of that name makes no difference.
func (t *throttle) attempt(now time.Time, key, from string) time.Duration {
	t.mutex.Lock()
	defer t.mutex.Unlock()
	t.sweep(now)
	all := []*bucket{t.of(now, "place "+from, ofPlace)}
	if key != "" {
		all = append(all, t.of(now, "name "+key, ofName), t.of(now, nameAtPlace(key, from), ofNameAtPlace))
	}
	wait := time.Duration(0)
	for _, b := range all {
		wait = max(wait, b.wait())
	}
	if wait > 0 {
		return wait
	}
	for _, b := range all {
		b.left--
	}
	return 0
}

// succeeded gives the attempts of a name at a place back.
func (t *throttle) succeeded(key, from string) {
	t.mutex.Lock()
	defer t.mutex.Unlock()
	if b := t.buckets["place "+from]; b != nil {
		b.left = min(b.left+1, b.burst)
	}
	if b := t.buckets["name "+key]; b != nil {
		b.left = min(b.left+1, b.burst)
	}
	delete(t.buckets, nameAtPlace(key, from))
}

func nameAtPlace(key, from string) string { return "both " + from + " " + key }

// of returns a bucket filled up to now.
func (t *throttle) of(now time.Time, id string, a allowance) *bucket {
	b := t.buckets[id]
	if b == nil {
		b = &bucket{a, a.burst, now}
		t.buckets[id] = b
	}
	b.fill(now)
	return b
}

func (b *bucket) fill(now time.Time) {
	if past := now.Sub(b.seen); past > 0 {
		b.left = min(b.left+past.Seconds()/b.every.Seconds(), b.burst)
		b.seen = now
	}
}

// wait is how long until there is a whole attempt again, in whole seconds.
func (b *bucket) wait() time.Duration {
	if b.left >= 1 {
		return 0
	}
	return time.Duration(math.Ceil((1-b.left)*b.every.Seconds())) * time.Second
}

// sweep forgets the buckets that are full: they are as good as new ones.
func (t *throttle) sweep(now time.Time) {
	if len(t.buckets) < t.sweepAt {
		return
	}
	for id, b := range t.buckets {
		if b.fill(now); b.left >= b.burst {
			delete(t.buckets, id)
		}
	}
	t.sweepAt = max(fewBuckets, 2*len(t.buckets))
}
