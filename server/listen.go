package server

import (
	"context"
	"net"

	"waterstrike/geo"
)

// Listen opens an address of this computer alone, such as "127.0.0.1:8080" or
// "localhost:0". Any other address is a [geo.Invalid] error: the pages ask nobody for a
// name, so nobody else may reach them.
func Listen(ctx context.Context, address string) (net.Listener, error) {
	host, port, err := net.SplitHostPort(address)
	if err == nil && host == "localhost" {
		address = net.JoinHostPort("127.0.0.1", port)
	}
	if err != nil || !loopback(host) {
		return nil, geo.Fail(geo.Invalid, "server.Listen",
			geo.Say("problem.not-loopback", geo.With("value", geo.Text(address))), err)
	}
	var config net.ListenConfig
	return config.Listen(ctx, "tcp", address)
}

// loopback tells whether a host name without its port stands for this computer.
func loopback(host string) bool {
	if host == "localhost" {
		return true
	}
	ip := net.ParseIP(host)
	return ip != nil && ip.IsLoopback()
}

// onlyHere tells whether only this computer reaches an address with its port.
func onlyHere(address string) bool {
	host, _, err := net.SplitHostPort(address)
	return err == nil && loopback(host)
}
