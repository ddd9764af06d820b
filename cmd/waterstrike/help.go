package main

import (
	"fmt"
	"slices"
	"strings"
	"text/tabwriter"

	"waterstrike/ui/say"

	"github.com/alecthomas/kong"
)

// help prints what can be said: to the program, or to the command that was named.
func (a *app) help(_ kong.HelpOptions, ctx *kong.Context) error {
	node, name, flags := ctx.Model.Node, "about", ctx.Model.Flags
	if chosen := ctx.Selected(); chosen != nil {
		node, name = chosen, strings.ReplaceAll(chosen.Name, "-", "")
		flags = append(slices.Clone(chosen.Flags), flags...)
	}
	fmt.Fprintf(a.out, "waterstrike %s\n\n", a.usage(node))
	fmt.Fprintf(a.out, "%s\n\n", node.Help)
	table := tabwriter.NewWriter(a.out, 0, 0, 2, ' ', 0)
	for _, child := range node.Children {
		fmt.Fprintf(table, "  %s\t%s\n", child.Name, child.Help)
	}
	for _, argument := range node.Positional {
		fmt.Fprintf(table, "  %s\t%s\n", argument.Summary(), argument.Help)
	}
	for _, flag := range flags {
		if flag.Name != "help" {
			fmt.Fprintf(table, "  -%s\t%s\n", flagForm(flag), flag.Help)
		}
	}
	if err := table.Flush(); err != nil {
		return err
	}
	a.heading("command.examples")
	fmt.Fprintln(a.out, examples(name))
	a.heading("command.exit-codes")
	return nil
}

// usage is what stands behind the program's name. The library's own is English alone.
func (a *app) usage(node *kong.Node) string {
	if node.Parent == nil {
		return a.words.Say(a.lang, say.Msg("command.usage.command"))
	}
	words := []string{node.Name}
	for _, p := range node.Positional {
		words = append(words, p.Summary())
	}
	return strings.Join(append(words, a.words.Say(a.lang, say.Msg("command.usage.options"))), " ")
}

func (a *app) heading(code string) {
	fmt.Fprintf(a.out, "\n%s\n", a.words.Say(a.lang, say.Msg(code)))
}

// flagForm writes a flag with what it takes and its default.
func flagForm(flag *kong.Flag) string {
	if flag.IsBool() {
		return flag.Name
	}
	takes := flag.PlaceHolder
	if flag.HasDefault {
		takes = flag.Default
	}
	return flag.Name + " " + takes
}

// examples are commands that work on the demo data; they read the same in every language.
func examples(command string) string {
	lines := map[string][]string{
		"about":    {"waterstrike demo", "waterstrike demo -once -keep demo-region", "waterstrike advise -data demo-region/data -village Toptoro"},
		"demo":     {"waterstrike demo", "waterstrike demo -once -keep demo-region", "waterstrike demo -once -lang pt -json"},
		"import":   {"waterstrike import demo-region/files/est.json demo-region/files", "waterstrike import -check -list demo-region/files/est.json demo-region/files", "waterstrike import exported"},
		"propose":  {"waterstrike propose demo-region/files/est_forages.csv demo-region/files/est_coupes.csv > mapping.json", "waterstrike propose -lengths ft -yields gpm wells.xlsx > wells.json"},
		"takeback": {"waterstrike take-back 2026-11-25-north"},
		"check":    {"waterstrike check", "waterstrike check -list -severity doubt", "waterstrike check -rules"},
		"advise":   {"waterstrike advise -data demo-region/data 0.509N 0.068W", "waterstrike advise -data demo-region/data -village Toptoro", "waterstrike advise -data demo-region/data -building -pdf building.pdf -village Toptoro", "waterstrike advise -json 30N 826400 56300", "waterstrike advise -data demo-region/data -layer '0-1 topsoil' -layer '1-4 clay 45' -method percussion -month 4 0.509N 0.068W"},
		"pack":     {"waterstrike pack -data demo-region/data site.json 0.509N 0.068W", "waterstrike pack -schema"},
		"predict":  {"waterstrike predict points.csv -out answers", "waterstrike predict -columns"},
		"trust":    {"waterstrike trust -data demo-region/data", "waterstrike trust -split time -drawings plots -page track-record.html"},
		"pumping":  {"waterstrike pumping test.csv", "waterstrike pumping -given 'hole: 150 mm' -given 'pumped: 6 h' -page recovery.html recovery.csv", "waterstrike pumping -pdf bailed.pdf bailed.txt"},
		"learnt":   {"waterstrike learnt -data demo-region/data -page learnt.html"},
		"section":  {"waterstrike section -data demo-region/data '0.60N 0.30W' '0.60N 0.05W' section.svg"},
		"surface":  {"waterstrike surface -data demo-region/data '0.60N 0.30W' '0.30N 0.05W' ground.tif", "waterstrike surface -method auger -cell 250 '0.60N 0.30W' '0.30N 0.05W' ground.csv"},
		"choose":   {"waterstrike choose -data demo-region/data -budget 8000 -weeks 20", "waterstrike choose -budget 8000 -weeks 'dry = 14, late = 6' -floors 'North = 3, South = 400 people' -never Toptoro -table chosen.csv -page chosen.html", "waterstrike choose -budget 8000 -weeks 20 -care 0.3"},
		"served":   {"waterstrike served -data demo-region/data", "waterstrike served -on 2024-10-31 -standard jmp-basic -lang fr -pdf served.pdf", "waterstrike served -foretold -page served.html"},
		"export":   {"waterstrike export geojson bores.geojson", "waterstrike export csv exported", "waterstrike export xlsx records.xlsx", "waterstrike export gpkg records.gpkg", "waterstrike export water-points visits.csv"},
		"backup":   {"waterstrike backup", "waterstrike backup -to /media/stick/ground.gpkg"},
		"restore":  {"waterstrike restore waterstrike-data/backups/2026-11-25.gpkg"},
		"serve":    {"waterstrike serve", "waterstrike serve -address 127.0.0.1:8080", "waterstrike serve -lan -name office.local"},
		"people":   {"waterstrike people", "waterstrike people -log", "waterstrike people -code Ana"},
		"version":  {"waterstrike version", "waterstrike version -json"},
	}
	return "  " + strings.Join(lines[command], "\n  ")
}
