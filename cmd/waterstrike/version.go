package main

import (
	"fmt"
	"runtime"
	"runtime/debug"
)

// release names the program's own version; a build from a checkout adds the commit.
const release = "0.1"

// programVersion is the release and, when the build knows it, the commit.
func programVersion() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return release
	}
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" {
			return release + "+" + s.Value[:min(12, len(s.Value))]
		}
	}
	return release
}

// versionCmd prints which program this is.
type versionCmd struct {
	JSON bool `help:"${flag_json}"`
}

// Run prints the version.
func (c *versionCmd) Run(a *app) error {
	if c.JSON {
		return a.print(map[string]string{"version": programVersion(), "go": runtime.Version(), "platform": runtime.GOOS + "/" + runtime.GOARCH})
	}
	fmt.Fprintf(a.out, "waterstrike %s (%s, %s/%s)\n", programVersion(), runtime.Version(), runtime.GOOS, runtime.GOARCH)
	return nil
}
