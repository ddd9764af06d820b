package authority

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/hex"
	"errors"
	"math/big"
	"strings"
	"time"
)

// How long certificates last. A phone takes no server's certificate of more than 825 days
// from an authority that its owner added (a rule of one maker, from memory).
const (
	authorityLasts = 10 * 365 * 24 * time.Hour
	serverLasts    = 90 * 24 * time.Hour
	clocksDiffer   = 24 * time.Hour // a phone's clock may be behind
)

// Authority vouches for this computer.
type Authority struct {
	certificate *x509.Certificate
	key         *ecdsa.PrivateKey
	now         func() time.Time
}

// Certificate returns the certificate that devices are told to trust, in DER.
func (a *Authority) Certificate() []byte { return a.certificate.Raw }

// Fingerprint returns the SHA-256 of the certificate as devices show it: pairs of capital
// hexadecimal digits with colons between them.
func (a *Authority) Fingerprint() string {
	sum := sha256.Sum256(a.certificate.Raw)
	pairs := make([]string, len(sum))
	for i, b := range sum {
		pairs[i] = strings.ToUpper(hex.EncodeToString([]byte{b}))
	}
	return strings.Join(pairs, ":")
}

// fresh makes an authority that vouches for private addresses, for local names and for the
// computer's own name.
func fresh(hostname string, now func() time.Time) (*Authority, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, err
	}
	serial, err := newSerial()
	if err != nil {
		return nil, err
	}
	names := localNames
	if hostname != "" {
		names = append([]string{hostname}, names...)
	}
	template := &x509.Certificate{
		SerialNumber: serial,
		// The serial number in the name keeps apart the authorities of two starts.
		Subject:                     pkix.Name{CommonName: "Waterstrike " + hostname, SerialNumber: serial.Text(16)},
		NotBefore:                   now().Add(-clocksDiffer),
		NotAfter:                    now().Add(authorityLasts),
		KeyUsage:                    x509.KeyUsageCertSign | x509.KeyUsageCRLSign,
		BasicConstraintsValid:       true,
		IsCA:                        true,
		MaxPathLenZero:              true,
		PermittedDNSDomainsCritical: true,
		PermittedDNSDomains:         names,
		PermittedIPRanges:           privateNetworks(),
	}
	der, err := x509.CreateCertificate(rand.Reader, template, template, key.Public(), key)
	if err != nil {
		return nil, err
	}
	certificate, err := x509.ParseCertificate(der)
	return &Authority{certificate, key, now}, err
}

func newSerial() (*big.Int, error) {
	return rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 127))
}

var errOver = errors.New("the certificate has ended or is not that of an authority")

// check tells whether the authority can vouch for anything.
func (a *Authority) check() error {
	c := a.certificate
	if a.now().After(c.NotAfter.Add(-serverLasts)) || !c.IsCA || !a.key.PublicKey.Equal(c.PublicKey) {
		return errOver
	}
	return nil
}
