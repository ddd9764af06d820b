package main

import (
	"fmt"
	"io"
	"os"
	"strings"

	"waterstrike/advisor/pumptest"
	"waterstrike/server/sheet"
)

// pumpingCmd says what a pumping test tells of the ground. It reads no knowledge base.
type pumpingCmd struct {
	File  string   `arg:"" type:"path" help:"${flag_pumping_file}"`
	Given []string `sep:"none" placeholder:"GIVEN" help:"${flag_given}"`
	JSON  bool     `help:"${flag_json}"`
	Page  string   `type:"path" help:"${flag_page}"`
}

// Run reads the test, fits it and prints what it says.
func (c *pumpingCmd) Run(a *app) error {
	if err := a.free(c.Page, ""); err != nil {
		return err
	}
	text, err := os.ReadFile(c.File)
	if err != nil {
		return err
	}
	test, err := pumptest.Read(strings.Join(append([]string{string(text)}, c.Given...), "\n"))
	if err != nil {
		return err
	}
	answer, err := test.Answer()
	if err != nil {
		return err
	}
	if c.Page != "" {
		if err := a.accountPage(c.Page, func(w io.Writer) error { return sheet.PumpingFile(w, a.words, a.lang, answer) }); err != nil {
			return err
		}
	}
	if c.JSON {
		return a.print(answer)
	}
	_, err = fmt.Fprint(a.out, sheet.NewPumping(a.words, a.lang, answer).Text())
	return err
}
