package say

import (
	"math"
	"strconv"
	"strings"
)

// minus is U+2212: as wide as the plus sign and never a line break.
const minus = "\u2212"

// number writes v rounded to the given decimals with the language's marks.
func (l Lang) number(v float64, decimals int) string {
	s := strconv.FormatFloat(math.Abs(v), 'f', decimals, 64)
	whole, fraction, _ := strings.Cut(s, ".")
	out := l.grouped(whole)
	if fraction != "" {
		out += styles[l].decimal + fraction
	}
	if v < 0 && strings.Trim(s, "0.") != "" { // no "minus zero"
		out = minus + out
	}
	return out
}

// grouped sets the thousands mark into a string of digits.
func (l Lang) grouped(digits string) string {
	var b strings.Builder
	for i, d := range digits {
		if i > 0 && (len(digits)-i)%3 == 0 {
			b.WriteString(styles[l].group)
		}
		b.WriteRune(d)
	}
	return b.String()
}

// span writes a range, or one number when both ends read the same.
func (l Lang) span(lo, hi float64, write func(float64) string) string {
	a, b := write(lo), write(hi)
	switch {
	case a == b:
		return a
	case lo < 0:
		return a + " " + styles[l].to + " " + b
	default:
		return a + "–" + joiner + b // one may follow a dash with a new line, which tears a range apart
	}
}

// fixed returns a writer of numbers with the given decimals, for span.
func (l Lang) fixed(decimals int) func(float64) string {
	return func(v float64) string { return l.number(v, decimals) }
}

// exact returns a writer of numbers with as many decimals as they have, from a least
// number to six.
func (l Lang) exact(least int) func(float64) string {
	return func(v float64) string {
		_, fraction, _ := strings.Cut(strings.TrimRight(strconv.FormatFloat(v, 'f', 6, 64), "0"), ".")
		return l.number(v, max(least, len(fraction)))
	}
}

// A chance is told in whole percent between these, never as 0 or 100: it is no promise.
const (
	leastChance    = 0.01
	greatestChance = 0.99
)

// chance writes a chance, or a range of chances.
func (l Lang) chance(lo, hi float64) string {
	st := styles[l]
	if lo <= greatestChance && hi > greatestChance { // a dash before > would read as an arrow
		return percent(l, lo) + st.percent + " " + st.to + nbsp + st.over + nbsp + percent(l, greatestChance) + st.percent
	}
	return l.span(lo, hi, func(p float64) string { return percent(l, p) }) + st.percent
}

func percent(l Lang, p float64) string {
	switch {
	case p < leastChance:
		return "<" + percent(l, leastChance)
	case p > greatestChance:
		return ">" + percent(l, greatestChance)
	default:
		return l.number(100*p, 0)
	}
}

// distance writes metres, or kilometres where they read better.
func (l Lang) distance(m float64) string {
	switch {
	case math.Round(m) < 1000:
		return l.number(m, 0) + nbsp + "m"
	case m < 9950:
		return l.number(m/1000, 1) + nbsp + "km"
	default:
		return l.number(m/1000, 0) + nbsp + "km"
	}
}

// axis writes an angle with the letter of its side: axis(-1.5, 0) is "1.5° S".
func (l Lang) axis(degrees float64, first int) string {
	letter := styles[l].axes[first]
	if degrees < 0 {
		letter = styles[l].axes[first+1]
	}
	return l.number(math.Abs(degrees), 5) + "°" + nbsp + string(letter)
}

// yield writes L/s and, for people with a bucket and a watch, L/min.
func (l Lang) yield(lo, hi float64) string {
	decimals := 2
	if hi >= 10 {
		decimals = 1
	}
	perSecond := l.span(lo, hi, l.fixed(decimals)) + nbsp + "L/s"
	return perSecond + " (" + l.span(60*lo, 60*hi, l.fixed(0)) + nbsp + "L/min)"
}

// money writes an amount; cents are shown only where there are any and the amount is small.
func (l Lang) money(lo, hi float64, currency string) string {
	decimals := 0
	if hi < 100 && (lo != math.Trunc(lo) || hi != math.Trunc(hi)) {
		decimals = 2
	}
	amount := l.span(lo, hi, l.fixed(decimals))
	if styles[l].currencyFirst {
		return currency + nbsp + amount
	}
	return amount + nbsp + currency
}
