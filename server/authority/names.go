package authority

import (
	"net"
	"strings"
)

// localNames are the endings of names that are used in one network only: RFC 6761
// (localhost), RFC 6762 (local), RFC 8375 (home.arpa); lan and internal by custom.
var localNames = []string{"localhost", "local", "home.arpa", "lan", "internal"}

// privateNetworks are the addresses that lead nowhere on the internet: RFC 1918, RFC 3927,
// RFC 6598, RFC 4193, RFC 4291 and the loopback.
func privateNetworks() []*net.IPNet {
	var all []*net.IPNet
	for _, text := range []string{
		"10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "100.64.0.0/10", "127.0.0.0/8",
		"fc00::/7", "fe80::/10", "::1/128",
	} {
		if _, network, err := net.ParseCIDR(text); err == nil {
			all = append(all, network)
		}
	}
	return all
}

// Permits tells whether the authority can vouch for a name or address.
func (a *Authority) Permits(name string) bool {
	if ip := net.ParseIP(name); ip != nil {
		for _, network := range a.certificate.PermittedIPRanges {
			if network.Contains(ip) {
				return true
			}
		}
		return false
	}
	name = strings.ToLower(name)
	for _, domain := range a.certificate.PermittedDNSDomains {
		if domain = strings.ToLower(domain); name == domain || strings.HasSuffix(name, "."+domain) {
			return true
		}
	}
	return false
}
