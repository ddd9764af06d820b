package server_test

import "testing"

// BenchmarkFirstPage asks for the first page: without people, which is the baseline, and
// signed in, which costs the session and the person from the file each time.
func BenchmarkFirstPage(b *testing.B) {
	open := newBench(b, land{}, nil)
	b.Run("open", func(b *testing.B) {
		for b.Loop() {
			open.get("/", "If-None-Match", "*")
		}
	})
	keeper := housed(b).signedIn(b, "Ana Keeper")
	b.Run("signed in", func(b *testing.B) {
		for b.Loop() {
			if w := keeper.get("/", "If-None-Match", "*"); w.Code != 304 {
				b.Fatal(w.Code)
			}
		}
	})
}
