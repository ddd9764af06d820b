package store

import (
	"database/sql"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the golden files anew")

// The triggers name every column of every table; written by hand one would be forgotten.
func TestHistoryTriggersCoverEveryColumn(t *testing.T) {
	first, now := columnTypes(t, recordScripts[:1]), columnTypes(t, recordScripts)
	for file, want := range map[string]string{
		"migrations/0005_history_of_bores.sql":   triggersOf(first, func(o family) bool { return o.root == "bore" }),
		"migrations/0006_history_of_places.sql":  triggersOf(first, func(o family) bool { return o.root != "bore" && o.root != "siting" }),
		"migrations/0014_history_of_sitings.sql": triggersOf(now, func(o family) bool { return o.root == "siting" }),
		"migrations/0010_history_of_layers.sql":  triggersAnew(now, "layer"),
		"migrations/0017_history_of_samples.sql": triggersAnew(now, "sample"),
	} {
		if *update {
			if err := os.WriteFile(file, []byte(want), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		if got, err := os.ReadFile(file); err != nil || string(got) != want {
			t.Errorf("%s does not follow the tables (%v); run go test ./geo/store -run HistoryTriggers -update", file, err)
		}
	}
}

// The last text of each trigger, in whichever migration it stands, names every column.
func TestHistoryKeepsEveryColumn(t *testing.T) {
	base, err := Create(filepath.Join(t.TempDir(), "ground.gpkg"), DefaultOptions())
	if err != nil {
		t.Fatal(err)
	}
	defer base.Close()
	for _, l := range allLayouts() {
		for trigger, form := range map[string]string{"_changed": "OLD.%[1]s IS NOT NEW.%[1]s", "_deleted": "'%s', "} {
			var text string
			if err := base.readers.QueryRow("SELECT sql FROM sqlite_master WHERE type = 'trigger' AND name = ?", l.name+trigger).Scan(&text); err != nil {
				t.Fatal(l.name, err)
			}
			for _, c := range l.columns {
				if c != "id" && !strings.Contains(text, fmt.Sprintf(form, c)) {
					t.Errorf("trigger %s%s does not keep %s", l.name, trigger, c)
				}
			}
		}
	}
}

// family is how a trigger reaches the record of a row: its table and id.
type family struct {
	name, parent string
	root         string // the table of the record
	record       string // SQL for the record's id, given OLD or NEW as %s
	children     []string
}

func familyTables() []family {
	children := map[string][]string{
		"bore": {"layer", "strike", "level", "pipe", "fill", "test", "sample"},
		"test": {"test_reading"}, "water_point": {"visit"}, "siting": {"nearby"},
	}
	var out []family
	for _, l := range allLayouts() {
		o := family{name: l.name, parent: l.parent, root: l.name, record: "%s.id", children: children[l.name]}
		switch l.parent {
		case "bore_fid":
			o.root = "bore"
			o.record = "(SELECT id FROM bore WHERE fid = %s.bore_fid)"
		case "test_fid":
			o.root = "bore"
			o.record = "(SELECT id FROM bore WHERE fid = (SELECT bore_fid FROM test WHERE fid = %s.test_fid))"
		case "water_point_fid":
			o.record = "(SELECT id FROM water_point WHERE fid = %s.water_point_fid)"
		case "siting_fid":
			o.root = "siting"
			o.record = "(SELECT id FROM siting WHERE fid = %s.siting_fid)"
		}
		out = append(out, o)
	}
	return out
}

const written = "-- Written by TestHistoryTriggersCoverEveryColumn; see 0004_history.sql.\n\n-- +goose Up\n"

// triggersAnew replaces the triggers of a table that was given more columns.
func triggersAnew(columns map[string][]column, table string) string {
	text := written
	for _, o := range familyTables() {
		if o.name == table {
			for _, name := range []string{"kept", "changed", "deleted"} {
				text += fmt.Sprintf("DROP TRIGGER %s_%s;\n", table, name)
			}
			text += updateTriggers(o, columns[table]) + deleteTrigger(o, columns[table])
		}
	}
	return text
}

func triggersOf(columns map[string][]column, which func(family) bool) string {
	var b strings.Builder
	b.WriteString(written)
	for _, o := range familyTables() {
		if which(o) {
			b.WriteString(insertTriggers(o))
			b.WriteString(updateTriggers(o, columns[o.name]))
			b.WriteString(deleteTrigger(o, columns[o.name]))
		}
	}
	return b.String()
}

const outside = "(SELECT act FROM context) IS NULL"

func trigger(name, when, body string) string {
	return fmt.Sprintf("\n-- +goose StatementBegin\nCREATE TRIGGER %s %s\nBEGIN\n%sEND;\n-- +goose StatementEnd\n", name, when, body)
}

// note writes one change. former is SQL for the former value.
func note(o family, row, action, former string) string {
	return fmt.Sprintf("  INSERT INTO change (act, at, layer, fid, record, action, former)\n"+
		"  SELECT act, CASE WHEN act IS NULL THEN strftime('%%Y-%%m-%%dT%%H:%%M:%%fZ', 'now') END, '%s', %s.fid, %s, '%s', %s FROM context;\n",
		o.name, row, fmt.Sprintf(o.record, row), action, former)
}

// newID is SQL for a random UUID (RFC 9562 version 4).
const newID = "lower(hex(randomblob(4)) || '-' || hex(randomblob(2)) || '-4' || substr(hex(randomblob(2)), 2) || '-' || substr('89ab', 1 + abs(random() % 4), 1) || substr(hex(randomblob(2)), 2) || '-' || hex(randomblob(6)))"

func insertTriggers(o family) string {
	exists := "fid = NEW.fid"
	if o.parent == "" {
		exists += " OR id = NEW.id"
	}
	again := trigger(o.name+"_again", fmt.Sprintf("BEFORE INSERT ON %s WHEN %s AND EXISTS (SELECT 1 FROM %s WHERE %s)", o.name, outside, o.name, exists),
		"  SELECT RAISE(ABORT, 'this row is here already: UPDATE it, so that its former value is kept');\n")
	if o.parent != "" {
		return again + trigger(o.name+"_added", "AFTER INSERT ON "+o.name+" WHEN (SELECT whole FROM context) = 0", note(o, "NEW", "insert", "NULL"))
	}
	named := o
	named.record = fmt.Sprintf("(SELECT id FROM %s WHERE fid = %%s.fid)", o.name)
	return again +
		trigger(o.name+"_added", "AFTER INSERT ON "+o.name+" WHEN NEW.id IS NOT NULL",
			note(o, "NEW", "insert", "NULL")+"  DELETE FROM hidden WHERE id = NEW.id;\n") +
		trigger(o.name+"_named", "AFTER INSERT ON "+o.name+" WHEN NEW.id IS NULL",
			fmt.Sprintf("  UPDATE %s SET id = %s WHERE fid = NEW.fid;\n", o.name, newID)+note(named, "NEW", "insert", "NULL"))
}

func updateTriggers(o family, columns []column) string {
	var differ []string
	moved := false
	for _, c := range columns {
		if c.name == "id" {
			continue // permanent
		}
		differ = append(differ, fmt.Sprintf("OLD.%s IS NOT NEW.%s", c.name, c.name))
		moved = moved || c.name == "as_read"
	}
	keys, what := "NEW.fid IS NOT OLD.fid OR NEW."+o.parent+" IS NOT OLD."+o.parent, "a part stays with its record: delete it and add it where it belongs"
	of := "fid, " + o.parent
	if o.parent == "" {
		keys, what, of = "NEW.fid IS NOT OLD.fid OR (NEW.id IS NOT OLD.id AND OLD.id IS NOT NULL)", "fid and id are permanent", "fid, id"
	}
	out := trigger(o.name+"_kept", fmt.Sprintf("BEFORE UPDATE OF %s ON %s WHEN %s", of, o.name, keys),
		fmt.Sprintf("  SELECT RAISE(ABORT, '%s');\n", what)) +
		trigger(o.name+"_changed", fmt.Sprintf("AFTER UPDATE ON %s WHEN %s", o.name, strings.Join(differ, " OR ")),
			note(o, "OLD", "update", former(columns)))
	if moved {
		out += "\n-- A point moved in a GIS is no longer where its text says.\n" +
			trigger(o.name+"_moved", fmt.Sprintf("AFTER UPDATE OF geom ON %s WHEN %s AND NEW.geom IS NOT OLD.geom AND NEW.as_read IS OLD.as_read", o.name, outside),
				fmt.Sprintf("  UPDATE %s SET as_read = NULL, crs = 'WGS 84', operation = NULL, precision_m = NULL WHERE fid = NEW.fid;\n", o.name))[1:]
	}
	return out
}

func deleteTrigger(o family, columns []column) string {
	body := ""
	for _, child := range o.children {
		body += fmt.Sprintf("  DELETE FROM %s WHERE %s_fid = OLD.fid;\n", child, o.name)
	}
	body += note(o, "OLD", "delete", former(columns))
	if o.parent == "" {
		body += fmt.Sprintf("  INSERT OR REPLACE INTO hidden (id, layer, seq) SELECT OLD.id, '%s', max(seq) FROM change;\n", o.name)
	}
	return trigger(o.name+"_deleted", "BEFORE DELETE ON "+o.name, body)
}

type column struct{ name, kind string }

// former is SQL for the JSON object of a row.
func former(columns []column) string {
	var args []string
	for _, c := range columns {
		value := "CAST(OLD." + c.name + " AS TEXT)"
		switch c.kind {
		case "DOUBLE":
			value = "json(lower(quote(OLD." + c.name + ")))"
		case "INTEGER", "BOOLEAN":
			value = "OLD." + c.name
		case "POINT", "LINESTRING", "MULTIPOLYGON":
			value = "hex(OLD." + c.name + ")"
		}
		args = append(args, fmt.Sprintf("'%s', %s", c.name, value))
	}
	return "json_object(" + strings.Join(args, ", ") + ")"
}

// columnTypes reads the columns of the tables, without fid, from the records' own SQL.
func columnTypes(t *testing.T, scripts []string) map[string][]column {
	db, err := sql.Open("sqlite", ":memory:")
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	if err := makeTables(t.Context(), db, scripts); err != nil {
		t.Fatal(err)
	}
	rows, err := db.Query(`SELECT m.name, c.name, c.type FROM sqlite_master m, pragma_table_info(m.name) c
		WHERE m.type = 'table' AND c.name <> 'fid' ORDER BY m.name, c.cid`)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	out := map[string][]column{}
	for rows.Next() {
		var table string
		var c column
		if err := rows.Scan(&table, &c.name, &c.kind); err != nil {
			t.Fatal(err)
		}
		out[table] = append(out[table], c)
	}
	return out
}
