package arrival

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"unicode"
	"unicode/utf8"

	"waterstrike/geo"
)

// What can be handed in together. The figure that intake is built for, 100,000 bores with
// 600,000 layers, is some 50 MB of text.
const (
	MaxBytes = 128 << 20
	MaxFiles = 20
	maxOpen  = 30 // arrivals that wait for somebody
	maxName  = 120
)

// Next returns the next file that is handed in, by the name it has with its sender;
// [io.EOF] after the last one. The content is read before the call after it.
type Next func() (name string, content io.Reader, err error)

// Receive keeps files that are handed in together and starts to look at them. Nothing is
// kept where one of them fails to come in. [geo.Invalid] for none, too many or too large
// ones; [geo.Conflict] where too many others still wait.
func (d *Desk) Receive(by string, next Next) (Arrival, error) {
	if err := d.room(); err != nil {
		return Arrival{}, err
	}
	a := Arrival{ID: newID(), By: by, At: d.Now().UTC(), Step: Received}
	if err := os.MkdirAll(d.files(a.ID), 0o750); err != nil {
		return a, unwritten("arrival.Receive", err)
	}
	err := d.store(&a, next)
	if err == nil {
		d.mutex.Lock()
		err = d.keep(a)
		d.mutex.Unlock()
	}
	if err != nil {
		return a, errors.Join(err, os.RemoveAll(d.dir(a.ID)))
	}
	return a, d.look(a.ID)
}

// room refuses more where nobody comes back for what is there.
func (d *Desk) room() error {
	if err := d.sweep(); err != nil {
		return err
	}
	all, err := d.Arrivals()
	if err == nil && len(all) >= maxOpen {
		err = geo.Fail(geo.Conflict, "arrival.Receive", geo.Say("arrival.too-many-wait", geo.With("n", geo.Count(len(all)))), nil)
	}
	return err
}

func newID() string {
	var b [8]byte
	_, _ = rand.Read(b[:]) // never fails
	return hex.EncodeToString(b[:])
}

func (d *Desk) store(a *Arrival, next Next) error {
	left := int64(MaxBytes)
	for {
		name, content, err := next()
		switch {
		case errors.Is(err, io.EOF) && len(a.Files) == 0:
			return refused("arrival.none")
		case errors.Is(err, io.EOF):
			return nil
		case err != nil:
			return err
		case len(a.Files) == MaxFiles:
			return refused("arrival.too-many", geo.With("n", geo.Count(MaxFiles)))
		}
		f := File{Name: a.freeName(name)}
		if f.Bytes, err = d.storeOne(a.ID, f.Name, io.LimitReader(content, left+1)); err != nil {
			return err
		}
		switch left -= f.Bytes; {
		case left < 0:
			return refused("arrival.too-large", geo.With("n", geo.Count(MaxBytes>>20)))
		case f.Bytes == 0:
			return refused("arrival.empty", geo.With("file", geo.Text(f.Name)))
		}
		a.Files = append(a.Files, f)
	}
}

func refused(code geo.Code, args ...geo.Arg) error {
	return geo.Fail(geo.Invalid, "arrival.Receive", geo.Say(code, args...), nil)
}

func (d *Desk) storeOne(id, name string, content io.Reader) (int64, error) {
	file, err := os.OpenFile(filepath.Join(d.files(id), name), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return 0, unwritten("arrival.Receive", err)
	}
	from := &source{Reader: content}
	n, err := io.Copy(file, from)
	if from.failed != nil {
		return n, errors.Join(from.failed, file.Close())
	}
	return n, unwritten("arrival.Receive", errors.Join(err, file.Close()))
}

// source tells a sender's failure from the disk's.
type source struct {
	io.Reader
	failed error
}

func (s *source) Read(p []byte) (int, error) {
	n, err := s.Reader.Read(p)
	if err != nil && !errors.Is(err, io.EOF) {
		s.failed = err
	}
	return n, err
}

// freeName is the name that a file is kept by: what its sender calls it, without folders
// and without signs that some system has no use for in a name, once.
func (a *Arrival) freeName(name string) string {
	name = name[strings.LastIndexAny(name, `/\`)+1:]
	name = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || strings.ContainsRune(`<>:"|?*`, r) || r == utf8.RuneError {
			return '-'
		}
		return r
	}, name)
	ending := filepath.Ext(name)
	if len(ending) > 10 {
		ending = ""
	}
	stem := strings.Trim(strings.TrimSuffix(name, ending), ". ")
	stem = strings.ToValidUTF8(stem[:min(len(stem), maxName)], "")
	if stem == "" {
		stem = "file"
	}
	for n, free := 2, stem; ; n++ {
		if !a.has(free + ending) {
			return free + ending
		}
		free = fmt.Sprintf("%s (%d)", stem, n)
	}
}

// has compares names without regard to capitals, as some systems do.
func (a *Arrival) has(name string) bool {
	for _, f := range a.Files {
		if strings.EqualFold(f.Name, name) {
			return true
		}
	}
	return false
}
