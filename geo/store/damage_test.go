package store_test

import (
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/store"
)

// pageSize is what SQLite makes files of unless told otherwise (SQLite file format, 1.3).
const pageSize = 4096

// A base with random bytes on any one page, or cut anywhere, is damaged and still a base:
// its owner needs the backup, not another file.
func TestDamageIsToldFromWhatIsNoBase(t *testing.T) {
	b := filled(t)
	must(t, b.Close())
	whole, err := os.ReadFile(b.Path())
	must(t, err)
	rng := rand.New(rand.NewPCG(7, 1))
	path := filepath.Join(t.TempDir(), "ground.gpkg")
	refused := 0
	for at := 0; at < len(whole); at += pageSize {
		spoilt := append([]byte(nil), whole...)
		for i := max(at, 100); i < at+pageSize; i++ { // 100: the header says whose file it is
			spoilt[i] = byte(rng.Uint32())
		}
		for _, data := range [][]byte{spoilt, whole[:max(at, 100)]} {
			must(t, os.WriteFile(path, data, 0o600))
			if code := codeOfOpening(t, path); code == "store.damaged" {
				refused++
				continue
			} else if code != "" {
				t.Errorf("page %d of %d: message %s", at/pageSize+1, len(whole)/pageSize, code)
			}
		}
	}
	t.Logf("%d of %d damaged files refused when opened", refused, 2*len(whole)/pageSize)
	if refused == 0 {
		t.Error("no damage was noticed")
	}
}

// codeOfOpening opens a file both ways and returns the code of the refusal, empty when it opens.
func codeOfOpening(t *testing.T, path string) geo.Code {
	t.Helper()
	var code geo.Code
	for _, only := range []bool{true, false} {
		options := store.DefaultOptions()
		options.ReadOnly = only
		b, err := store.Open(path, options)
		var failure *geo.Error
		switch {
		case err == nil:
			_ = b.Close() // it may meet the damage only now
		case errors.As(err, &failure) && geo.KindOf(err) == geo.Invalid:
			code = failure.Message.Code
		default:
			t.Errorf("refused with %v", err)
		}
	}
	return code
}
