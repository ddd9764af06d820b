package store_test

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/store"
	"waterstrike/geo/store/storetest"
)

func TestWatchNoticesOutsideWrites(t *testing.T) {
	b := filled(t)
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	noticed := make(chan struct{}, 10)
	ended := make(chan error)
	go func() { ended <- b.Watch(ctx, 5*time.Millisecond, func() { noticed <- struct{}{} }) }()
	for _, change := range []func() error{
		func() error {
			_, err := raw(t, b.Path()).Exec("UPDATE bore SET remarks = 'outside'")
			return err
		},
		func() error { return b.SaveBore(ctx, storetest.FullBore(9), me) },
	} {
		time.Sleep(30 * time.Millisecond) // the watch has looked at least once
		must(t, change())
		select {
		case <-noticed:
		case <-time.After(10 * time.Second):
			t.Fatal("a change went unnoticed")
		}
	}
	stop()
	if err := <-ended; !errors.Is(err, context.Canceled) {
		t.Errorf("the watch ended with %v", err)
	}
}

// Command line and server have the same file open and write together.
func TestTwoProgramsWriteTogether(t *testing.T) {
	ctx := context.Background()
	server := newBase(t)
	command, err := store.Open(server.Path(), store.DefaultOptions())
	must(t, err)
	defer command.Close()
	const each, imported = 25, 150

	var wg sync.WaitGroup
	fails := make(chan error, 4)
	save := func(b *store.Base, from int) {
		defer wg.Done()
		for i := range each {
			if err := b.SaveBore(ctx, storetest.FullBore(from+i), me); err != nil {
				fails <- fmt.Errorf("bore %d: %w", from+i, err)
			}
		}
	}
	d := newRegion(imported).draft(t, t.TempDir()+"/draft.db")
	defer d.Close()
	wg.Add(4)
	go save(server, 1000)
	go save(command, 2000)
	go func() {
		defer wg.Done()
		if _, err := command.Apply(ctx, d, me, store.How{}); err != nil {
			fails <- err
		}
	}()
	go func() {
		defer wg.Done()
		for range 20 { // a reader sees the import whole or not at all
			n := 0
			err := server.Bores(ctx, func(b geo.Bore) error {
				if b.Source.Batch != "" {
					n++
				}
				return nil
			})
			if err != nil || (n != 0 && n != imported) {
				fails <- fmt.Errorf("a reader saw %d of %d imported bores: %w", n, imported, err)
			}
		}
	}()
	wg.Wait()
	close(fails)
	for err := range fails {
		t.Error(err)
	}
	counts, err := server.Counts(ctx)
	must(t, err)
	if counts.Bores != 2*each+imported {
		t.Errorf("%d bores, want %d", counts.Bores, 2*each+imported)
	}
	must(t, server.Check(ctx))
}

// One waits for the other for as long as its caller allows, and no longer.
func TestWritersWaitAsLongAsTheyMay(t *testing.T) {
	b := filled(t)
	db := raw(t, b.Path())
	_, err := db.Exec("BEGIN IMMEDIATE")
	must(t, err)
	ctx, cancel := context.WithTimeout(context.Background(), 100*time.Millisecond)
	defer cancel()
	start := time.Now()
	if err := b.SaveBore(ctx, storetest.FullBore(9), me); err == nil {
		t.Fatal("two writers at once")
	}
	if waited := time.Since(start); waited > 4*time.Second {
		t.Errorf("a caller that allowed 0.1 s waited %v", waited)
	}
	_, err = db.Exec("COMMIT")
	must(t, err)
	must(t, b.SaveBore(context.Background(), storetest.FullBore(9), me))
}
