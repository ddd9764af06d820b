package main

import (
	"fmt"
	"strings"

	"waterstrike/ui/say"

	"github.com/alecthomas/kong"
)

// commands is the grammar of the command line. Its help texts are codes of the catalogue.
type commands struct {
	Data string `default:"waterstrike-data" type:"path" help:"${flag_data}"`
	Lang string `placeholder:"en|fr|pt" help:"${flag_lang}"`

	Demo     demoCmd     `cmd:"" help:"${demo}"`
	Import   importCmd   `cmd:"" help:"${import}"`
	TakeBack takeBackCmd `cmd:"" help:"${takeback}"`
	Advise   adviseCmd   `cmd:"" help:"${advise}"`
	Export   exportCmd   `cmd:"" help:"${export}"`
	Backup   backupCmd   `cmd:"" help:"${backup}"`
	Restore  restoreCmd  `cmd:"" help:"${restore}"`
	Serve    serveCmd    `cmd:"" help:"${serve}"`
	Version  versionCmd  `cmd:"" help:"${version}"`
}

// helpWords are the names that help texts are interpolated by, and their codes in the
// catalogue.
func helpWords() map[string]string {
	words := map[string]string{}
	for _, name := range strings.Fields(`demo import takeback advise export backup restore serve version
		flag_data flag_lang flag_json flag_once flag_address flag_at flag_village flag_seed
		flag_check flag_list flag_files flag_mapping flag_batch flag_form flag_to flag_from flag_schema flag_sections`) {
		words[name] = "command." + strings.ReplaceAll(name, "_", ".")
	}
	return words
}

// parser builds the command line in the app's language.
func (a *app) parser(c *commands) (*kong.Kong, error) {
	vars := kong.Vars{}
	for name, code := range helpWords() {
		vars[name] = a.words.Say(a.lang, say.Msg(code))
	}
	return kong.New(c,
		kong.Name("waterstrike"),
		kong.Description(a.words.Say(a.lang, say.Msg("command.about"))),
		vars,
		kong.Writers(a.out, a.err),
		kong.Exit(func(int) { a.helped = true }),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
		kong.Help(a.help),
	)
}

// help prints the usual help, then examples on the demo data and the exit codes.
func (a *app) help(options kong.HelpOptions, ctx *kong.Context) error {
	if err := kong.DefaultHelpPrinter(options, ctx); err != nil {
		return err
	}
	name := "about"
	if node := ctx.Selected(); node != nil {
		name = strings.ReplaceAll(node.Name, "-", "")
	}
	fmt.Fprintln(a.out)
	for _, part := range []string{"command.examples", "command.exit-codes"} {
		fmt.Fprintln(a.out, a.words.Say(a.lang, say.Msg(part)))
		if part == "command.examples" {
			fmt.Fprintln(a.out, examples(name))
		}
	}
	return nil
}

// examples are commands that work on the demo data; they read the same in every language.
func examples(command string) string {
	lines := map[string][]string{
		"about":    {"waterstrike demo", "waterstrike demo -once -lang fr", "waterstrike advise 0.25N 0.31E"},
		"demo":     {"waterstrike demo", "waterstrike demo -once", "waterstrike demo -once -lang pt -json"},
		"import":   {"waterstrike import north.json records/", "waterstrike import -check north.json records/"},
		"takeback": {"waterstrike take-back 2026-11-25-north"},
		"advise":   {"waterstrike advise 0.25N 0.31E", "waterstrike advise -village Name", "waterstrike advise -json 31N 422000 27600"},
		"export":   {"waterstrike export geojson bores.geojson", "waterstrike export csv exported/"},
		"backup":   {"waterstrike backup", "waterstrike backup -to /media/stick/ground.gpkg"},
		"restore":  {"waterstrike restore waterstrike-data/backups/2026-11-25.gpkg"},
		"serve":    {"waterstrike serve", "waterstrike serve -address 127.0.0.1:8080"},
		"version":  {"waterstrike version", "waterstrike version -json"},
	}
	return "  " + strings.Join(lines[command], "\n  ")
}
