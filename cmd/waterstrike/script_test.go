package main

import (
	"context"
	"fmt"
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"waterstrike": func() { os.Exit(run(context.Background(), os.Args[1:], os.Stdout, os.Stderr, os.Getenv)) },
	})
}

// TestScripts runs every script of testdata/script: commands as a person types them, what
// they print, and their exit codes. In a script, "district FOLDER" puts a data folder there
// that has records, so that not every script waits for the whole demo; "kept FOLDER" puts there
// what "demo -keep FOLDER" keeps, and what it says into FOLDER.txt.
func TestScripts(t *testing.T) {
	t.Parallel()
	prepared := os.DirFS(string(district(t)))
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script", RequireExplicitExec: true, UpdateScripts: os.Getenv("UPDATE") != "", Condition: condition,
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"district": func(s *testscript.TestScript, _ bool, args []string) {
				s.Check(os.CopyFS(s.MkAbs(args[0]), prepared))
			},
			"kept": func(s *testscript.TestScript, _ bool, args []string) {
				demo, err := demoKept()
				s.Check(err)
				s.Check(os.CopyFS(s.MkAbs(args[0]), demo.files))
				s.Check(os.WriteFile(s.MkAbs(args[0]+".txt"), []byte(demo.said), 0o644))
			},
		},
	})
}

// condition knows who may write everywhere: what a folder forbids is no bar to them.
func condition(name string) (bool, error) {
	if name != "root" {
		return false, fmt.Errorf("no condition %q", name)
	}
	return os.Geteuid() == 0, nil
}
