package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"waterstrike/advisor/pumptest"
	"waterstrike/server/sheet"
)

// pumpingCmd says what a pumping test tells of the ground. It reads no knowledge base.
type pumpingCmd struct {
	File  string   `arg:"" type:"path" help:"${flag_pumping_file}"`
	Given []string `sep:"none" placeholder:"${takes_value}" help:"${flag_given}"`
	JSON  bool     `help:"${flag_json}"`
	Page  string   `type:"path" placeholder:"${takes_file}" help:"${flag_page}"`
	PDF   string   `name:"pdf" type:"path" placeholder:"${takes_file}" help:"${flag_pdf}"`

	Drawings string `type:"path" placeholder:"${takes_folder}" help:"${flag_drawings}"`
}

// Run reads the test, fits it and prints what it says.
func (c *pumpingCmd) Run(a *app) error {
	if err := a.free(c.Page, c.Drawings); err != nil {
		return err
	}
	if err := a.free(c.PDF, ""); err != nil {
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
	if err := c.write(a, answer); err != nil {
		return err
	}
	if c.JSON {
		return a.print(answer)
	}
	_, err = fmt.Fprint(a.out, sheet.NewPumping(a.words, a.lang, answer).Text())
	return err
}

// write puts the answer where it was asked for.
func (c *pumpingCmd) write(a *app, answer pumptest.Answer) error {
	if c.Page != "" {
		if err := a.accountPage(c.Page, func(w io.Writer) error { return sheet.PumpingFile(w, a.words, a.lang, answer) }); err != nil {
			return err
		}
	}
	if c.PDF != "" {
		today := time.Now().UTC().Truncate(24 * time.Hour)
		if err := a.accountPage(c.PDF, func(w io.Writer) error { return sheet.PumpingPDF(w, a.words, a.lang, answer, today) }); err != nil {
			return err
		}
	}
	if c.Drawings == "" {
		return nil
	}
	drawings, err := sheet.PumpingDrawings(a.words, a.lang, answer)
	if err != nil {
		return err
	}
	return a.drawAccount(drawings, c.Drawings)
}
