package main

import (
	"cmp"
	"context"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/store"
	"waterstrike/server"
	"waterstrike/server/account"
	"waterstrike/server/authority"
	"waterstrike/ui/draw"
)

// lan is how devices of the local network reach this computer.
type lan struct {
	authority    *authority.Authority
	file         string   // of the authority
	names        []string // names of this computer besides its addresses
	reach        []string // names and addresses, the best first
	secure, door net.Listener
}

// serveLAN serves the local network by HTTPS, and says how a device learns to trust it.
func (c *serveCmd) serveLAN(a *app, base *store.Base, people *account.Book) error {
	l, err := c.openLAN(a)
	if err != nil {
		return err
	}
	defer l.secure.Close()
	defer l.door.Close()
	if err := a.sayFirstCode(people, l.address("https", l.secure)+"begin"); err != nil {
		return err
	}
	if err := l.explain(a); err != nil {
		return err
	}
	return a.serve(base, server.Config{People: people, Authority: l.authority, Names: l.names}, l.serve)
}

func (c *serveCmd) openLAN(a *app) (*lan, error) {
	hostname, _ := os.Hostname() // one without a name is reached by its addresses
	hostname = strings.ToLower(hostname)
	l := &lan{file: filepath.Join(string(a.folder), "authority.pem")}
	var err error
	if l.authority, err = authority.Open(l.file, hostname, time.Now); err != nil {
		return nil, err
	}
	for _, name := range c.Name {
		if !l.authority.Permits(name) {
			return nil, geo.Fail(geo.Invalid, "serve", geo.Say("lan.bad-name", geo.With("value", geo.Text(name))), nil)
		}
		l.names = append(l.names, strings.ToLower(name))
	}
	if l.reach, err = l.addresses(c.Address); err != nil {
		return nil, err
	}
	if hostname != "" {
		l.names = append(l.names, hostname, strings.TrimSuffix(hostname, ".local")+".local")
	}
	l.secure, l.door, err = server.ListenLAN(a.ctx, c.Address)
	return l, err
}

// addresses lists how devices may reach this computer: by the names that were given, else
// by its addresses in networks, those of the older kind first, which are easier to type.
func (l *lan) addresses(wanted string) ([]string, error) {
	host, _, _ := net.SplitHostPort(wanted)
	if ip := net.ParseIP(host); ip != nil && !ip.IsUnspecified() && !ip.IsLoopback() {
		return append(slices.Clone(l.names), host), nil
	}
	all, err := net.InterfaceAddrs()
	if err != nil {
		return nil, err
	}
	var found []net.IP
	for _, at := range all {
		network, ok := at.(*net.IPNet)
		if ok && !network.IP.IsLoopback() && !network.IP.IsLinkLocalUnicast() && l.authority.Permits(network.IP.String()) {
			found = append(found, network.IP)
		}
	}
	slices.SortStableFunc(found, func(a, b net.IP) int { return cmp.Compare(len(a.To4()), len(b.To4())) * -1 })
	reach := slices.Clone(l.names)
	for _, ip := range found {
		reach = append(reach, ip.String())
	}
	if len(reach) == 0 {
		return nil, geo.Fail(geo.NotFound, "serve", geo.Say("lan.no-address"), nil)
	}
	return reach, nil
}

// address is where a device reaches a listener.
func (l *lan) address(scheme string, at net.Listener) string {
	return scheme + "://" + net.JoinHostPort(l.reach[0], strconv.Itoa(portOf(at))) + "/"
}

func portOf(l net.Listener) int {
	if at, ok := l.Addr().(*net.TCPAddr); ok {
		return at.Port
	}
	return 0
}

// explain prints the steps, with the address as a QR code.
func (l *lan) explain(a *app) error {
	door := l.address("http", l.door)
	lines, err := draw.QRLines(door)
	if err != nil {
		return err
	}
	a.say(geo.Say("lan.title"))
	a.say(geo.Say("lan.scan", geo.With("path", geo.Text(door))))
	for _, line := range lines {
		fmt.Fprintln(a.out, painted(a.out, line))
	}
	a.say(geo.Say("lan.compare"))
	a.say(geo.Say("lan.fingerprint", geo.With("value", geo.Text(l.authority.Fingerprint()))))
	a.say(geo.Say("lan.open", geo.With("path", geo.Text(l.address("https", l.secure)))))
	a.say(geo.Say("lan.key", geo.With("file", geo.Text(l.file))))
	return nil
}

// painted makes a line light on dark on a terminal, whatever its colours are.
func painted(out any, line string) string {
	file, ok := out.(*os.File)
	if !ok {
		return line
	}
	if info, err := file.Stat(); err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return line
	}
	return "\x1b[97;40m" + line + "\x1b[0m"
}

// serve serves by HTTPS, and the door beside it.
func (l *lan) serve(ctx context.Context, s *server.Server) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	ended := make(chan error, 2)
	go func() { ended <- s.ServeDoor(ctx, l.door, portOf(l.secure)) }()
	go func() { ended <- s.Serve(ctx, l.secure) }()
	first := <-ended
	stop() // neither goes on without the other
	return cmp.Or(first, <-ended)
}
