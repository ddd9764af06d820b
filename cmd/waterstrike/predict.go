package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"time"

	"waterstrike/advisor"
	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/server/sheet"
)

// predictCmd answers for a table of points and writes the answers as tables.
type predictCmd struct {
	Points  string `arg:"" optional:"" type:"path" help:"${flag_points}"`
	Out     string `type:"path" placeholder:"${takes_folder}" help:"${flag_out}"`
	Seed    uint64 `default:"1" help:"${flag_seed}"`
	Sheets  bool   `help:"${flag_sheets}"`
	Columns bool   `help:"${flag_columns}"`
}

// Run answers every point and puts the folder in place once it is whole.
func (c *predictCmd) Run(a *app) error {
	if c.Columns {
		_, err := fmt.Fprint(a.out, a.columnsText())
		return err
	}
	if c.Points == "" || c.Out == "" {
		return geo.Fail(geo.Invalid, "predict", geo.Say("predict.no-points"), nil)
	}
	base, err := a.openToRead()
	if err != nil {
		return err
	}
	defer base.Close()
	snapshot, done, err := a.evidence(base)
	if err != nil {
		return err
	}
	defer done()
	if snapshot.Len() == 0 {
		return geo.Fail(geo.NotFound, "predict", geo.Say("problem.no-data"), nil)
	}
	adviser, err := a.newAdvisor(snapshot)
	if err != nil {
		return err
	}
	return wholeFolder(c.Out, func(dir string) error { return c.write(a, adviser, snapshot, dir) })
}

// write answers all points into the files of a folder and says what became of them.
func (c *predictCmd) write(a *app, adviser *advisor.Advisor, snapshot *evidence.Snapshot, dir string) error {
	files, err := newAnswerFiles(dir)
	if err != nil {
		return err
	}
	defer files.close()
	if c.Sheets {
		files.sheets = sheet.NewAdvicePDF(a.words, a.lang)
	}
	answered, total, err := a.answerAll(adviser, c, files)
	if err != nil {
		return err
	}
	if err := files.finish(dir); err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(dir, "README.txt"), []byte(a.readmeOf(adviser, snapshot, c.Seed)), 0o644); err != nil {
		return err
	}
	if answered < total {
		a.complain(geo.Say("predict.left-out", geo.With("n", geo.Count(total-answered))))
	}
	a.say(geo.Say("predict.done", geo.With("n", geo.Count(answered)), geo.With("total", geo.Count(total)), geo.With("file", geo.Text(c.Out))))
	return nil
}

// asked is a point on its way to its answer.
type asked struct {
	point
	advice chan advisor.Advice // closed without an answer on a failure
}

// ahead is how many points of one processor may be on their way: it bounds the memory.
const ahead = 16

// answerAll reads points, answers them on every processor, and writes the answers in the
// order of the points. Issues are said as they are met.
func (a *app) answerAll(adviser *advisor.Advisor, c *predictCmd, files *answerFiles) (answered, total int, err error) {
	ctx, stop := context.WithCancelCause(a.ctx)
	defer stop(nil)
	workers := runtime.GOMAXPROCS(0)
	todo, order := make(chan asked), make(chan asked, ahead*workers)
	var working sync.WaitGroup
	for range workers {
		working.Go(func() { answerEach(ctx, stop, adviser, c.Seed, todo) })
	}
	var reading sync.WaitGroup
	reading.Go(func() {
		defer close(order)
		defer close(todo)
		summary, err := a.readPoints(ctx, c.Points, func(p point) error { return send(ctx, asked{p, make(chan advisor.Advice, 1)}, order, todo) }, a.sayIssue)
		if err != nil {
			stop(err)
		}
		total = summary.Rows
	})
	answered, err = a.writeAnswers(ctx, order, files)
	stop(err)
	reading.Wait()
	working.Wait()
	if cause := context.Cause(ctx); cause != nil && !errors.Is(cause, context.Canceled) || a.ctx.Err() != nil {
		return answered, total, cause
	}
	return answered, total, err
}

// send puts a point into the queue of those to write and of those to answer.
func send(ctx context.Context, p asked, order, todo chan<- asked) error {
	for _, queue := range []chan<- asked{order, todo} {
		select {
		case queue <- p:
		case <-ctx.Done():
			return context.Cause(ctx)
		}
	}
	return nil
}

func answerEach(ctx context.Context, stop context.CancelCauseFunc, adviser *advisor.Advisor, seed uint64, todo <-chan asked) {
	for p := range todo {
		advice, err := adviser.Advise(ctx, advisor.Question{At: p.at, Seed: seed})
		if err != nil {
			stop(err)
			return
		}
		p.advice <- advice
	}
}

// writeAnswers writes the answers in the order of the points until there are no more.
func (a *app) writeAnswers(ctx context.Context, order <-chan asked, files *answerFiles) (n int, err error) {
	last := time.Now()
	for p := range order {
		select {
		case advice := <-p.advice:
			if err := files.write(p.point, advice); err != nil {
				return n, err
			}
		case <-ctx.Done():
			return n, context.Cause(ctx)
		}
		n++
		if time.Since(last) >= time.Second {
			last = time.Now()
			a.complain(geo.Say("predict.progress", geo.With("n", geo.Count(n))))
		}
	}
	return n, nil
}

// sayIssue says what is wrong with one row, to the error output.
func (a *app) sayIssue(i geo.Issue) {
	where := a.sentence(geo.Say("import.where", geo.With("file", geo.Text(i.File)), geo.With("row", geo.Count(i.Row))))
	fmt.Fprintf(a.err, "%s  %s\n", where, a.sentence(i.Message))
}
