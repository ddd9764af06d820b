package arrival

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"sync"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/intake"
	"waterstrike/geo/store"
)

// Config is what a desk is made of. All is required.
type Config struct {
	Folder store.Folder                                // drafts stand in it
	Base   *store.Base                                 // what drafts are applied to
	Known  func(context.Context) (intake.Known, error) // asked before each reading
	Now    func() time.Time
}

// Desk is where files are handed in. It is safe for concurrent use.
type Desk struct {
	Config
	life   context.Context        // of the work behind the answers
	mutex  sync.Mutex             // of the folder and of jobs
	jobs   map[string]*job        // by arrival, or by import that is taken back
	failed map[string]geo.Message // why an import could not be taken back
	turn   chan struct{}          // holds whoever works
	work   sync.WaitGroup
}

// New makes a desk that works until the context ends.
func New(life context.Context, c Config) *Desk {
	return &Desk{Config: c, life: life, jobs: map[string]*job{}, failed: map[string]geo.Message{}, turn: make(chan struct{}, 1)}
}

// Wait returns once nothing is being done any more; the desk's context has ended before.
func (d *Desk) Wait() { d.work.Wait() }

const stateFile = "arrival.json"

// known is what the name of an arrival looks like: nothing else reaches the file system.
var known = regexp.MustCompile(`^[0-9a-f]{16}$`)

func (d *Desk) dir(id string) string { return d.Folder.Arrival(id) }

// files is the folder of the files as they were handed in.
func (d *Desk) files(id string) string { return filepath.Join(d.dir(id), "files") }

func (d *Desk) draft(id string) string { return filepath.Join(d.dir(id), "draft.db") }

// Arrival returns one, [geo.NotFound] when there is none of that name.
func (d *Desk) Arrival(id string) (Arrival, error) {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	return d.load(id)
}

// Arrivals returns those that are not in the base yet, the newest first.
func (d *Desk) Arrivals() ([]Arrival, error) {
	all, err := d.all()
	return slices.DeleteFunc(all, func(a Arrival) bool { return a.Step == Applied }), err
}

func (d *Desk) all() ([]Arrival, error) {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	entries, err := os.ReadDir(filepath.Dir(d.dir("x")))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	var out []Arrival
	for _, e := range entries {
		if !e.IsDir() || !known.MatchString(e.Name()) {
			continue
		}
		a, err := d.load(e.Name())
		if geo.KindOf(err) == geo.NotFound {
			continue // it is just being handed in
		}
		if err != nil {
			return nil, err
		}
		out = append(out, a)
	}
	slices.SortFunc(out, func(a, b Arrival) int { return cmp.Or(b.At.Compare(a.At), cmp.Compare(a.ID, b.ID)) })
	return out, err
}

// load reads the state of an arrival, and what is being done about it.
func (d *Desk) load(id string) (a Arrival, err error) {
	const op = "arrival.load"
	if !known.MatchString(id) {
		return a, geo.Fail(geo.NotFound, op, geo.Say("arrival.gone"), nil)
	}
	data, err := os.ReadFile(filepath.Join(d.dir(id), stateFile))
	if errors.Is(err, fs.ErrNotExist) {
		return a, geo.Fail(geo.NotFound, op, geo.Say("arrival.gone"), err)
	}
	if err == nil {
		err = json.Unmarshal(data, &a)
	}
	if err != nil {
		return a, geo.Fail(geo.Internal, op, geo.Message{}, err)
	}
	a.Doing = d.jobs[id].now()
	return a, nil
}

// keep writes the state of an arrival: the old one stands until the new one is whole.
func (d *Desk) keep(a Arrival) error {
	data, err := json.Marshal(a)
	if err != nil {
		return geo.Fail(geo.Internal, "arrival.keep", geo.Message{}, err)
	}
	path := filepath.Join(d.dir(a.ID), stateFile)
	if err := os.WriteFile(path+".new", data, 0o600); err != nil {
		return unwritten("arrival.keep", err)
	}
	return unwritten("arrival.keep", os.Rename(path+".new", path))
}

// change changes the state of an arrival that still is there.
func (d *Desk) change(id string, fn func(*Arrival)) error {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	a, err := d.load(id)
	if err != nil {
		return err
	}
	fn(&a)
	return d.keep(a)
}

// Discard throws away an arrival with its files. What is in the base stays there.
// [geo.Conflict] while something is being done about it.
func (d *Desk) Discard(id string) error {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	a, err := d.load(id)
	switch {
	case err != nil:
		return err
	case a.Doing.Work != "":
		return busy("arrival.Discard")
	}
	return unwritten("arrival.Discard", os.RemoveAll(d.dir(id)))
}

// sweep throws away what nobody has come back for.
func (d *Desk) sweep() error {
	all, err := d.all()
	for _, a := range all {
		old := d.Now().Sub(a.At) > kept || a.Step == Applied && d.Now().Sub(a.At) > keptApplied
		if old && a.Doing.Work == "" {
			err = errors.Join(err, d.Discard(a.ID))
		}
	}
	return err
}

// How long an arrival stays: two weeks, in which somebody should come back for it, and a
// day where it is in the base already.
const (
	kept        = 14 * 24 * time.Hour
	keptApplied = 24 * time.Hour
)
