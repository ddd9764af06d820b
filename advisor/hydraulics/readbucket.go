package hydraulics

import (
	"regexp"
	"strconv"
	"strings"
)

// FormatError says where a note of buckets cannot be read.
type FormatError struct {
	Text string // the part that is not understood
	Want string
}

// Error says what is wrong and what to do.
func (e *FormatError) Error() string {
	return "hydraulics: cannot read " + strconv.Quote(e.Text) + " in a note of buckets: want " + e.Want
}

// The notes that [ReadBuckets] knows.
var (
	countNote = regexp.MustCompile(`^(\S+) ?[x×*] ?([^ l]+) ?l (?:in|en|em|per|par|por|/) (.+)$`)
	fillNote  = regexp.MustCompile(`^([^ lx×*]+) ?l (?:in|en|em) (.+)$`)
	timeNote  = regexp.MustCompile(`^([0-9][0-9.,]*)? ?(h|min|m|s|sec)$`)
)

// secondsIn are the units of time of a note.
var secondsIn = map[string]float64{"h": 3600, "min": 60, "m": 60, "s": 1, "sec": 1}

// longestNote is more than anyone writes on a line.
const longestNote = 400

// ReadBuckets reads a discharge from a field note: "12 x 20 L in 45 min", a count, or
// "20 L in 34 s; 36 s; 35 s", the times of one bucket, with the small words in English,
// French or Portuguese and a point or a comma in numbers.
//
//   - Units: litres; h, min, s.
//   - Domain: one line.
//   - Errors: [FormatError], and those of [BucketFills] and [BucketCount].
//   - Source: our own form.
//   - Checked by: TestReadBuckets, FuzzReadBuckets.
func ReadBuckets(note string) (Discharge, error) {
	if len(note) > longestNote {
		return Discharge{}, &FormatError{note[:longestNote], "one line"}
	}
	text := plainNote(note)
	if m := countNote.FindStringSubmatch(text); m != nil {
		c, err := readCount(m[1], m[2], m[3])
		if err != nil {
			return Discharge{}, err
		}
		return BucketCount(c.Buckets, c.Litres, c.Minutes)
	}
	if m := fillNote.FindStringSubmatch(text); m != nil {
		return readFills(m[1], m[2])
	}
	return Discharge{}, &FormatError{note, "buckets like 12 x 20 L in 45 min, or 20 L in 34 s; 36 s"}
}

// Count is a number of buckets or bails taken out in a time.
type Count struct {
	Buckets, Litres, Minutes float64
}

// ReadCount reads a count such as "30 x 5 L in 10 min", as [ReadBuckets] does.
//
//   - Errors: [FormatError], and [InputError] for what is not above 0.
//   - Source: our own form.
//   - Checked by: TestReadBuckets.
func ReadCount(note string) (Count, error) {
	if m := countNote.FindStringSubmatch(plainNote(note)); m != nil {
		return readCount(m[1], m[2], m[3])
	}
	return Count{}, &FormatError{note, "bails like 30 x 5 L in 10 min"}
}

func plainNote(note string) string {
	if len(note) > longestNote {
		note = note[:longestNote]
	}
	return strings.Join(strings.Fields(strings.ToLower(note)), " ")
}

func readCount(buckets, litres, time string) (c Count, err error) {
	if c.Buckets, err = readNumber(buckets); err != nil {
		return Count{}, err
	}
	if c.Litres, err = readNumber(litres); err != nil {
		return Count{}, err
	}
	seconds, err := readTime(time)
	if err != nil {
		return Count{}, err
	}
	c.Minutes = seconds / 60
	return c, positive(named{"buckets", c.Buckets}, named{"bucket", c.Litres}, named{"minutes", c.Minutes})
}

func readFills(litres, times string) (Discharge, error) {
	volume, err := readNumber(litres)
	if err != nil {
		return Discharge{}, err
	}
	var seconds []float64
	for _, part := range strings.Split(times, ";") {
		s, err := readTime(strings.TrimSpace(part))
		if err != nil {
			return Discharge{}, err
		}
		seconds = append(seconds, s)
	}
	return BucketFills(volume, seconds)
}

// readTime reads "45 min", or "h" for one hour.
func readTime(text string) (float64, error) {
	m := timeNote.FindStringSubmatch(text)
	if m == nil {
		return 0, &FormatError{text, "a time like 45 min, 34 s or 1 h"}
	}
	if m[1] == "" {
		return secondsIn[m[2]], nil
	}
	n, err := readNumber(m[1])
	return n * secondsIn[m[2]], err
}

// readNumber reads digits with at most one point or comma.
func readNumber(text string) (float64, error) {
	n, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil || strings.ContainsAny(text, "xXpPeEiInN+-_") {
		return 0, &FormatError{text, "a number like 20 or 7,5"}
	}
	return n, nil
}
