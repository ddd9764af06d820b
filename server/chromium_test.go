package server_test

import (
	"context"
	"os"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// TestMain ends the browser that the tests had.
func TestMain(m *testing.M) {
	code := m.Run()
	chromium.end()
	os.Exit(code)
}

// chromium is the browser of all tests; each has windows of its own. It is started when the
// first of them asks for one.
var chromium shared

type shared struct {
	once    sync.Once
	ctx     context.Context
	profile string
	err     error
}

func (s *shared) start(path string) (context.Context, error) {
	s.once.Do(func() {
		if s.profile, s.err = os.MkdirTemp("", "waterstrike-browser-"); s.err != nil {
			return
		}
		options := []chromedp.ExecAllocatorOption{
			chromedp.ExecPath(path), chromedp.Headless, chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun,
			chromedp.UserDataDir(s.profile), chromedp.WSURLReadTimeout(time.Minute),
			chromedp.Flag("disable-features", "SpareRendererForSitePerProcess"), // one process less for every page
		}
		for _, flag := range []string{
			"disable-quic", "disable-background-networking", "disable-component-update", "disable-sync",
			"disable-renderer-backgrounding", "disable-backgrounding-occluded-windows", "disable-background-timer-throttling",
		} {
			options = append(options, chromedp.Flag(flag, true))
		}
		allocated, _ := chromedp.NewExecAllocator(context.Background(), options...)
		s.ctx, _ = chromedp.NewContext(allocated)
		s.err = chromedp.Do(s.ctx)
	})
	return s.ctx, s.err
}

func (s *shared) end() {
	if s.ctx == nil {
		return
	}
	limited, cancel := context.WithTimeout(s.ctx, 10*time.Second)
	defer cancel()
	chromedp.Cancel(limited)
	os.RemoveAll(s.profile)
}

// focused makes a window behave as the one in front, whichever is.
func focused(ctx context.Context, t *chromedp.Target) (chromedp.Void, error) {
	_, err := cdp.Call(ctx, t, emulation.SetFocusEmulationEnabled, emulation.SetFocusEmulationEnabledParams{Enabled: true})
	return chromedp.Void{}, err
}
