package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"strings"
	"testing"
)

// TestReadmeCommands runs the commands that README shows, in their order and in one
// folder, and looks for every line of output that it shows below them.
func TestReadmeCommands(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	var output string
	commands := 0
	for line := range strings.Lines(string(text)) {
		line = strings.TrimRight(line, "\n")
		if command, ok := strings.CutPrefix(line, "$ go run ./cmd/waterstrike "); ok {
			output = runLine(t, command)
			commands++
			continue
		}
		if strings.HasPrefix(line, "```") {
			output = ""
		}
		if output != "" && line != "..." && !strings.Contains(output, line+"\n") {
			t.Errorf("README shows %q, which the command does not print", line)
		}
	}
	if commands < 3 {
		t.Errorf("README shows %d commands, want 3 or more", commands)
	}
}

func runLine(t *testing.T, command string) string {
	t.Helper()
	if folder, ok := strings.CutPrefix(command, "demo -once -keep "); ok {
		demo, err := demoKept()
		if err := errors.Join(err, os.CopyFS(folder, demo.files)); err != nil {
			t.Fatal(err)
		}
		return demo.said // with -once it says the same and ends
	}
	var out bytes.Buffer
	env := func(string) string { return "" }
	if code := run(context.Background(), strings.Fields(command), &out, &out, env); code != exitDone {
		t.Fatalf("%s: exit code %d: %s", command, code, out.String())
	}
	return out.String()
}
