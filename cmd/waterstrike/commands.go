package main

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"

	"waterstrike/ui/say"

	"github.com/alecthomas/kong"
)

// commands is the grammar of the command line. Its help texts are codes of the catalogue.
type commands struct {
	Data string `default:"waterstrike-data" type:"path" help:"${flag_data}"`
	Lang string `placeholder:"en|fr|pt" help:"${flag_lang}"`

	Demo     demoCmd     `cmd:"" help:"${demo}"`
	Propose  proposeCmd  `cmd:"" help:"${propose}"`
	Import   importCmd   `cmd:"" help:"${import}"`
	TakeBack takeBackCmd `cmd:"" help:"${takeback}"`
	Check    checkCmd    `cmd:"" help:"${check}"`
	Advise   adviseCmd   `cmd:"" help:"${advise}"`
	Pack     packCmd     `cmd:"" help:"${pack}"`
	Predict  predictCmd  `cmd:"" help:"${predict}"`
	Trust    trustCmd    `cmd:"" help:"${trust}"`
	Learnt   learntCmd   `cmd:"" help:"${learnt}"`
	Pumping  pumpingCmd  `cmd:"" help:"${pumping}"`
	Section  sectionCmd  `cmd:"" help:"${section}"`
	Surface  surfaceCmd  `cmd:"" help:"${surface}"`
	Choose   chooseCmd   `cmd:"" help:"${choose}"`
	Served   servedCmd   `cmd:"" help:"${served}"`
	Export   exportCmd   `cmd:"" help:"${export}"`
	Backup   backupCmd   `cmd:"" help:"${backup}"`
	Restore  restoreCmd  `cmd:"" help:"${restore}"`
	Serve    serveCmd    `cmd:"" help:"${serve}"`
	People   peopleCmd   `cmd:"" help:"${people}"`
	Version  versionCmd  `cmd:"" help:"${version}"`
}

// helpWords are the names that help texts are interpolated by, and their codes in the
// catalogue.
func helpWords() map[string]string {
	words := map[string]string{}
	for _, name := range strings.Fields(`demo propose import takeback check advise pack predict trust learnt pumping section surface choose served export backup restore serve people version
		flag_data flag_lang flag_json flag_once flag_address flag_at flag_village flag_seed
		flag_keep flag_check flag_list flag_files flag_mapping flag_batch flag_form flag_to flag_from flag_schema flag_sections
		flag_severity flag_rules flag_tables flag_takefile flag_dataset flag_lengths flag_yields
		flag_split flag_folds flag_most flag_drawings flag_page flag_points flag_out flag_sheets flag_columns
		flag_line_from flag_line_to flag_line_file flag_aside flag_deep
		flag_budget flag_weeks flag_standard flag_on flag_tested flag_per_bore flag_per_metre flag_per_km flag_floors
		flag_must flag_never flag_care flag_reserve flag_table flag_foretold flag_pdf
		flag_holelog flag_layer flag_month flag_strike flag_level flag_refused
		flag_corner_from flag_corner_to flag_surface_file flag_cell flag_by
		flag_pumping_file flag_given
		flag_building flag_sheet_pdf flag_built flag_method flag_code flag_log flag_lan flag_name
		takes_money takes_weeks takes_day takes_floors takes_villages takes_village takes_file takes_folder takes_path
		takes_name takes_method takes_layer takes_month takes_value takes_metres`) {
		words[name] = "command." + strings.ReplaceAll(name, "_", ".")
	}
	return words
}

// number reads a number whose minus oneForm wrote as the sign: not every negative number is
// the start of a position.
func number(ctx *kong.DecodeContext, target reflect.Value) error {
	token, err := ctx.Scan.PopValue("float")
	if err != nil {
		return err
	}
	v, err := strconv.ParseFloat(strings.Replace(token.String(), "−", "-", 1), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return fmt.Errorf("expected a float but got %q (string)", token)
	}
	target.SetFloat(v)
	return nil
}

// parser builds the command line in the app's language.
func (a *app) parser(c *commands) (*kong.Kong, error) {
	vars := kong.Vars{}
	for name, code := range helpWords() {
		vars[name] = a.words.Say(a.lang, say.Msg(code))
	}
	parser, err := kong.New(c,
		kong.Name("waterstrike"),
		kong.Description(a.words.Say(a.lang, say.Msg("command.about"))),
		vars,
		kong.Writers(a.out, a.err),
		kong.Exit(func(int) { a.helped = true }),
		kong.Help(a.help),
		kong.KindMapper(reflect.Float64, kong.MapperFunc(number)),
	)
	if err == nil {
		a.nameArguments(parser.Model.Node)
	}
	return parser, err
}

// nameArguments names what commands take without a flag in the app's language: the library
// interpolates flags alone.
func (a *app) nameArguments(n *kong.Node) {
	for _, p := range n.Positional {
		p.Name = a.words.Say(a.lang, say.Msg("command.argument."+p.Name))
	}
	for _, child := range n.Children {
		a.nameArguments(child)
	}
}
