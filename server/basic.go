package server

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"errors"
	"net/http"
	"strings"
	"sync"
	"time"

	"waterstrike/server/account"

	"github.com/labstack/echo/v4"
)

// basicFor is how long a name and password that a program sends with every request count
// without being worked through again; who may come in is asked each time.
const basicFor = 10 * time.Minute

// mostBasic is how many of them are kept at once.
const mostBasic = 256

// programs keeps who proved who they are to which program lately, by a hash that says
// nothing once this program has ended.
type programs struct {
	mutex sync.Mutex
	salt  []byte
	known map[[sha256.Size]byte]proof
}

// proof is that a password was right for a person as they stood then.
type proof struct {
	id, stamp int64
	until     time.Time
}

func newPrograms() *programs {
	salt := make([]byte, sha256.Size)
	_, _ = rand.Read(salt) // never fails
	return &programs{salt: salt, known: map[[sha256.Size]byte]proof{}}
}

func (p *programs) key(name, password string) (out [sha256.Size]byte) {
	mac := hmac.New(sha256.New, p.salt)
	mac.Write([]byte(name + "\x00" + password))
	mac.Sum(out[:0])
	return out
}

func (p *programs) look(key [sha256.Size]byte, now time.Time) (proof, bool) {
	p.mutex.Lock()
	defer p.mutex.Unlock()
	found, there := p.known[key]
	return found, there && now.Before(found.until)
}

func (p *programs) keep(key [sha256.Size]byte, who proof, now time.Time) {
	p.mutex.Lock()
	defer p.mutex.Unlock()
	for k, old := range p.known {
		if len(p.known) >= mostBasic || !now.Before(old.until) {
			delete(p.known, k)
		}
	}
	p.known[key] = who
}

// takesBasic tells whether a request may prove who asks by name and password: a GIS reads
// features, and has no page to sign in at.
func takesBasic(c echo.Context) bool {
	r := c.Request()
	return (r.Method == http.MethodGet || r.Method == http.MethodHead) && (c.Path() == featuresRoot || strings.HasPrefix(c.Path(), featuresRoot+"/"))
}

// byPassword finds out who asks by the name and password of the request (RFC 7617); nobody
// where there are none, or they are wrong.
func (s *Server) byPassword(c echo.Context) (visitor, error) {
	name, password, sent := c.Request().BasicAuth()
	if !sent || !takesBasic(c) {
		return visitor{}, nil
	}
	ctx, now, key := c.Request().Context(), s.Now(), s.programs.key(name, password)
	if known, there := s.programs.look(key, now); there {
		p, err := s.People.Person(ctx, known.id)
		if err == nil && !p.Closed && p.Stamp == known.stamp {
			return visitor{p.ID, p.Name, p.Role}, nil
		}
	}
	p, err := s.People.SignIn(ctx, name, password, place(c.Request()))
	if errors.Is(err, account.ErrNoMatch) {
		return visitor{}, nil
	}
	if err != nil {
		return visitor{}, err
	}
	s.Log.Info("a program reads for", "person", p.ID)
	s.programs.keep(key, proof{p.ID, p.Stamp, now.Add(basicFor)}, now)
	return visitor{p.ID, p.Name, p.Role}, nil
}
