package authority

import (
	"crypto/ecdsa"
	"crypto/x509"
	"encoding/pem"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"waterstrike/geo"
)

// The kinds of PEM blocks in the file.
const (
	certificateBlock = "CERTIFICATE"
	keyBlock         = "PRIVATE KEY"
)

// Open reads the authority of a file, or makes one for a computer of that name and writes
// it there for its owner alone. [geo.Invalid] when the file holds none, or one that has
// ended.
func Open(path, hostname string, now func() time.Time) (*Authority, error) {
	const op = "authority.Open"
	a, err := read(path, now)
	if errors.Is(err, fs.ErrNotExist) {
		return create(path, hostname, now)
	}
	if err == nil {
		err = a.check()
	}
	if err != nil {
		return nil, geo.Fail(geo.Invalid, op, geo.Say("lan.bad-authority", geo.With("file", geo.Text(path))), err)
	}
	return a, os.Chmod(path, 0o600)
}

func read(path string, now func() time.Time) (*Authority, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	a := &Authority{now: now}
	for block, rest := pem.Decode(text); block != nil; block, rest = pem.Decode(rest) {
		switch block.Type {
		case certificateBlock:
			a.certificate, err = x509.ParseCertificate(block.Bytes)
		case keyBlock:
			var key any
			key, err = x509.ParsePKCS8PrivateKey(block.Bytes)
			a.key, _ = key.(*ecdsa.PrivateKey)
		}
		if err != nil {
			return nil, err
		}
	}
	if a.certificate == nil || a.key == nil {
		return nil, errors.New("no certificate with its key")
	}
	return a, nil
}

// create puts the whole file in its place at once; where another program was faster, its
// file counts.
func create(path, hostname string, now func() time.Time) (*Authority, error) {
	const op = "authority.create"
	a, err := fresh(hostname, now)
	if err != nil {
		return nil, geo.Fail(geo.Internal, op, geo.Message{}, err)
	}
	key, err := x509.MarshalPKCS8PrivateKey(a.key)
	if err != nil {
		return nil, geo.Fail(geo.Internal, op, geo.Message{}, err)
	}
	text := append(pem.EncodeToMemory(&pem.Block{Type: certificateBlock, Bytes: a.certificate.Raw}),
		pem.EncodeToMemory(&pem.Block{Type: keyBlock, Bytes: key})...)
	if err := place(path, text); errors.Is(err, fs.ErrExist) {
		return Open(path, hostname, now)
	} else if err != nil {
		return nil, geo.Fail(geo.Conflict, op, geo.Say("problem.not-writable", geo.With("file", geo.Text(path))), err)
	}
	return a, nil
}

// place writes a file that only its owner can read, unless there is one.
func place(path string, text []byte) error {
	draft, err := os.CreateTemp(filepath.Dir(path), ".authority-*") // with the mode 0600
	if err != nil {
		return err
	}
	defer os.Remove(draft.Name()) //nolint:errcheck // it is gone where it was moved
	_, err = draft.Write(text)
	if err = errors.Join(err, draft.Sync(), draft.Close()); err != nil {
		return err
	}
	if err := os.Link(draft.Name(), path); err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	return os.Rename(draft.Name(), path) // a disk without links
}
