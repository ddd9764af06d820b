package authority

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"net"
	"sync"
	"time"
)

// served makes the certificates of a server: one for each of this computer's addresses, so
// that a computer that moves to another network needs no new start.
type served struct {
	authority *Authority
	names     []string
	mutex     sync.Mutex
	made      map[string]*tls.Certificate // by the address that a device came in by
}

// TLS returns what a server needs to prove that it is this computer, under any of the
// names and by whichever private address a device reaches it. Names that the authority
// cannot vouch for are left out.
func (a *Authority) TLS(names []string) *tls.Config {
	s := &served{authority: a, made: map[string]*tls.Certificate{}}
	for _, name := range append([]string{"localhost", "127.0.0.1", "::1"}, names...) {
		if a.Permits(name) {
			s.names = append(s.names, name)
		}
	}
	return &tls.Config{MinVersion: tls.VersionTLS12, GetCertificate: s.certificate}
}

// certificate returns the certificate for a connection.
func (s *served) certificate(hello *tls.ClientHelloInfo) (*tls.Certificate, error) {
	address := ""
	if local, ok := hello.Conn.LocalAddr().(*net.TCPAddr); ok {
		address = local.IP.String()
	}
	if !s.authority.Permits(address) {
		address = ""
	}
	s.mutex.Lock()
	defer s.mutex.Unlock()
	if c := s.made[address]; c != nil && s.authority.now().Before(c.Leaf.NotAfter.Add(-serverLasts/3)) {
		return c, nil
	}
	c, err := s.authority.sign(s.names, address)
	if err == nil {
		s.made[address] = c
	}
	return c, err
}

// sign makes a certificate for names and an address, with a key of its own.
func (a *Authority) sign(names []string, address string) (*tls.Certificate, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, err
	}
	serial, err := newSerial()
	if err != nil {
		return nil, err
	}
	template := &x509.Certificate{
		SerialNumber: serial,
		Subject:      pkix.Name{CommonName: "Waterstrike"},
		NotBefore:    a.now().Add(-clocksDiffer),
		NotAfter:     a.now().Add(serverLasts - clocksDiffer).Truncate(time.Second),
		KeyUsage:     x509.KeyUsageDigitalSignature,
		ExtKeyUsage:  []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
	}
	for _, name := range append([]string{address}, names...) {
		if ip := net.ParseIP(name); ip != nil {
			template.IPAddresses = append(template.IPAddresses, ip)
		} else if name != "" {
			template.DNSNames = append(template.DNSNames, name)
		}
	}
	der, err := x509.CreateCertificate(rand.Reader, template, a.certificate, key.Public(), a.key)
	if err != nil {
		return nil, err
	}
	leaf, err := x509.ParseCertificate(der)
	return &tls.Certificate{Certificate: [][]byte{der, a.certificate.Raw}, PrivateKey: key, Leaf: leaf}, err
}
