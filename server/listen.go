package server

import (
	"context"
	"math"
	"net"
	"strconv"

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

// ListenLAN opens an address that other devices reach too, and beside it the door where
// they learn to trust this computer: the next port, or any where the port is 0. A loopback
// host stands for all addresses of this computer.
func ListenLAN(ctx context.Context, address string) (secure, door net.Listener, err error) {
	const op = "server.ListenLAN"
	host, port, err := net.SplitHostPort(address)
	n, notNumber := strconv.ParseUint(port, 10, 16)
	if err != nil || notNumber != nil || n == math.MaxUint16 {
		return nil, nil, geo.Fail(geo.Invalid, op, geo.Say("problem.bad-address", geo.With("value", geo.Text(address))), err)
	}
	if loopback(host) {
		host = ""
	}
	next := n
	if n != 0 {
		next = n + 1
	}
	var config net.ListenConfig
	if secure, err = config.Listen(ctx, "tcp", net.JoinHostPort(host, port)); err != nil {
		return nil, nil, geo.Fail(geo.Conflict, op, geo.Say("problem.bad-address", geo.With("value", geo.Text(address))), err)
	}
	at := net.JoinHostPort(host, strconv.FormatUint(next, 10))
	if door, err = config.Listen(ctx, "tcp", at); err != nil {
		secure.Close()
		return nil, nil, geo.Fail(geo.Conflict, op, geo.Say("problem.bad-address", geo.With("value", geo.Text(at))), err)
	}
	return secure, door, nil
}
