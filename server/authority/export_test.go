package authority

import "crypto/x509"

// Sign makes a certificate for any name, as a thief of the key would.
func Sign(a *Authority, name string) (*x509.Certificate, error) {
	c, err := a.sign([]string{name}, "")
	if err != nil {
		return nil, err
	}
	return c.Leaf, nil
}
