// Command waterstrike is the whole program: it takes in logs of bores, answers what is
// likely underground at a point, and shows it on the command line and in a browser.
//
// This package only wires the rooms together; one file holds one command.
package main

import (
	"context"
	"io"
	"os"
	"os/signal"
	"syscall"

	"waterstrike/geo"
	"waterstrike/ui/say"
)

func main() {
	signal.Ignore(syscall.SIGPIPE) // a closed pipe is an error of writing: what was begun is cleaned up
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := run(ctx, os.Args[1:], os.Stdout, os.Stderr, os.Getenv)
	stop()
	os.Exit(code)
}

// run is the program without its process: arguments in, text out, an exit code back.
func run(ctx context.Context, args []string, stdout, stderr io.Writer, getenv func(string) string) int {
	words, err := say.New()
	if err != nil {
		return broken(stderr, err)
	}
	a := &app{ctx: ctx, out: stdout, err: stderr, words: words, lang: languageOf(args, getenv)}
	var c commands
	parser, err := a.parser(&c)
	if err != nil {
		return broken(stderr, err)
	}
	chosen, err := parser.Parse(oneForm(args))
	if a.helped {
		return exitDone
	}
	if err != nil {
		return a.misused(err)
	}
	if _, err := say.ParseLang(c.Lang); c.Lang != "" && err != nil {
		return a.exit(geo.Fail(geo.Invalid, "lang", geo.Say("command.bad-lang", geo.With("value", geo.Text(c.Lang))), err))
	}
	a.folder = c.folder()
	return a.exit(chosen.Run(a))
}

func broken(stderr io.Writer, err error) int {
	io.WriteString(stderr, err.Error()+"\n")
	return exitInternal
}
