package account_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/server/account"
)

// TestHashAgainstReference verifies hashes that the reference C implementation of Argon2
// prints for the password "password" and the salt "somesalt" (test.c of phc-winner-argon2,
// hashtest for Argon2id, version 0x13; from memory, and confirmed by x/crypto, which is
// tested against the same table).
func TestHashAgainstReference(t *testing.T) {
	for _, hash := range []string{
		"$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc",
		"$argon2id$v=19$m=256,t=2,p=1$c29tZXNhbHQ$nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4",
		"$argon2id$v=19$m=256,t=2,p=2$c29tZXNhbHQ$bQk8UB/VmZZF4Oo79iDXuL5/0ttZwg2f/5U52iv1cDc",
	} {
		if ok, err := account.Matches(hash, "password"); err != nil || !ok {
			t.Errorf("%s: %v, %v", hash, ok, err)
		}
		if ok, err := account.Matches(hash, "differentpassword"); err != nil || ok {
			t.Errorf("%s matches another password: %v", hash, err)
		}
	}
}

func TestUnreadableHashes(t *testing.T) {
	for _, hash := range []string{
		"", "password", "$argon2i$v=19$m=256,t=2,p=1$c29tZXNhbHQ$nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4",
		"$argon2id$v=18$m=256,t=2,p=1$c29tZXNhbHQ$nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4",
		"$argon2id$v=19$m=256,t=0,p=1$c29tZXNhbHQ$nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4",
		"$argon2id$v=19$m=256,t=2,p=1$c29tZXNhbHQ$short", "$argon2id$v=19$m=256,t=2,p=1$c29*ZXNhbHQ$nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4",
	} {
		if ok, err := account.Matches(hash, "password"); err == nil || ok {
			t.Errorf("%q is read", hash)
		}
	}
}

// TestDefaultCost: 19 MiB, two passes, one lane is the smallest memory setting that OWASP's
// password storage cheat sheet lists for argon2id (from memory).
func TestDefaultCost(t *testing.T) {
	hash, err := account.DefaultCost().Hash("x")
	if err != nil || !strings.HasPrefix(hash, "$argon2id$v=19$m=19456,t=2,p=1$") {
		t.Errorf("%s, %v", hash, err)
	}
	other, _ := account.DefaultCost().Hash("x")
	if hash == other {
		t.Error("two hashes of one password are the same: there is no salt")
	}
}

func TestCostIsRaised(t *testing.T) {
	h := begun(t)
	dearer := h.options()
	dearer.Cost.Passes = 3
	b, err := account.Open(t.Context(), h.path, dearer)
	must(t, err)
	defer b.Close()
	for range 2 {
		got[account.Person](t)(b.SignIn(t.Context(), keeperName, password, place))
	}
	if n := account.Count(t, b, "person WHERE password LIKE '%t=3,%'"); n != 1 {
		t.Error("the hash keeps its old cost")
	}
}

func TestSimplePasswords(t *testing.T) {
	for _, bad := range []string{
		"password1234", "Password2026", "waterstrike1", "123456789012", "aaaaaaaaaaaa", "abababababab", "qwertyuiop12",
		"Motdepasse2025", "palavrapasse12", "Jeanne Forage", "forage jeanne 12", "JEANNEJEANNE",
	} {
		if !account.Simple(bad, "Jeanne Forage") {
			t.Errorf("%q passes", bad)
		}
	}
	for _, good := range []string{"three dry months", "trois mois sans pluie", "ébène et latérite", "x9!kQ2#vL0pz", "雨季之前的三口井很浅呢吧"} {
		if account.Simple(good, "Jeanne Forage") {
			t.Errorf("%q does not pass", good)
		}
	}
}

// One password typed on two keyboards, composed and decomposed: RFC 8265, section 4.2.
func TestPasswordsAreTheSameOnEveryKeyboard(t *testing.T) {
	h := begun(t)
	p, code, err := h.Invite(t.Context(), h.by(), "Eve", account.Reader)
	must(t, err)
	got[account.Person](t)(h.Redeem(t.Context(), code, "puits creus\u00e9 \u00e0 la main", place))
	in, err := h.SignIn(t.Context(), "Eve", "puits creuse\u0301 a\u0300 la main", place)
	if err != nil || in.ID != p.ID {
		t.Errorf("%v", err)
	}
	for _, long := range []string{strings.Repeat("a long one ", 12), strings.Repeat("x", 1<<20)} {
		_, err = h.SignIn(t.Context(), "Eve", long, place)
		wants(t, "a password that is too long", err, geo.Invalid, "account.no-match")
	}
}

func TestCodes(t *testing.T) {
	form := regexp.MustCompile(`^([0-9A-HJKMNP-TV-Z]{4}-){3}[0-9A-HJKMNP-TV-Z]{4}$`)
	seen := map[string]bool{}
	for range 1000 {
		c := account.NewCode()
		if !form.MatchString(c) || seen[c] {
			t.Fatalf("code %q", c)
		}
		seen[c] = true
	}
	for typed, want := range map[string]string{
		"7KQ2-M0XD": "7KQ2M0XD", "7kq2 mOxd": "7KQ2M0XD", "il1I": "1111", " a_b\u00a0c\n": "ABC", "é": "",
	} {
		if got := account.PlainCode(typed); got != want {
			t.Errorf("%q is read as %q, want %q", typed, got, want)
		}
	}
}

func TestNames(t *testing.T) {
	h := begun(t)
	for i, bad := range []string{"", "  ", strings.Repeat("n", 61), "a\x00b", "a\nb", "a\u202eb", "a\u200bb"} {
		_, _, err := h.Invite(t.Context(), h.by(), bad, account.Reader)
		wants(t, fmt.Sprint(i), err, geo.Invalid, "account.bad-name")
	}
	for _, good := range []string{"O'Neill", "N'Guessan-Böll", "<script>alert(1)</script>", "井 掘り", "x"} {
		if p, _, err := h.Invite(t.Context(), h.by(), good, account.Reader); err != nil || p.Name != good {
			t.Errorf("%q: %q, %v", good, p.Name, err)
		}
	}
}

func TestThrottleTreatsAllNamesAlike(t *testing.T) {
	h := begun(t)
	for _, name := range []string{keeperName, "Nobody At All", "\u202e"} {
		h.move(24 * time.Hour)
		tries := 0
		for ; tries < 100; tries++ {
			_, err := h.SignIn(t.Context(), name, "wrong", "198.51.100.1")
			var soon *account.TooSoonError
			if errors.As(err, &soon) {
				if soon.Wait <= 0 || soon.Wait > time.Minute {
					t.Errorf("%q has to wait %v", name, soon.Wait)
				}
				break
			}
			wants(t, name, err, geo.Invalid, "account.no-match")
		}
		if want := map[string]int{"\u202e": 30}[name]; tries != 8 && tries != want {
			t.Errorf("%q: %d tries", name, tries)
		}
	}
	_, err := h.SignIn(t.Context(), keeperName, password, place)
	if err != nil {
		t.Errorf("the owner of a name is kept out from elsewhere: %v", err)
	}
}

// While somebody is slowed down, the right password is no different from a wrong one.
func TestThrottleTellsNothing(t *testing.T) {
	h := begun(t)
	for range 8 {
		h.SignIn(t.Context(), keeperName, "wrong", place)
	}
	var wrong, right *account.TooSoonError
	_, first := h.SignIn(t.Context(), keeperName, "wrong", place)
	_, second := h.SignIn(t.Context(), keeperName, password, place)
	if !errors.As(first, &wrong) || !errors.As(second, &right) || *wrong != *right {
		t.Errorf("wrong: %v, right: %v", first, second)
	}
	h.move(time.Minute)
	got[account.Person](t)(h.SignIn(t.Context(), keeperName, password, place))
	for range 8 { // who came in begins anew
		_, err := h.SignIn(t.Context(), keeperName, "wrong", place)
		wants(t, "after success", err, geo.Invalid, "account.no-match")
	}
}

func TestThrottleOfCodes(t *testing.T) {
	h := begun(t)
	_, code, err := h.Invite(t.Context(), h.by(), "Field", account.Field)
	must(t, err)
	for range 30 {
		_, err := h.Redeem(t.Context(), account.NewCode(), password, "198.51.100.1")
		wants(t, "a guess", err, geo.Invalid, "account.bad-code")
	}
	var soon *account.TooSoonError
	if _, err := h.Redeem(t.Context(), code, password, "198.51.100.1"); !errors.As(err, &soon) {
		t.Errorf("a guesser goes on: %v", err)
	}
	got[account.Person](t)(h.Redeem(t.Context(), code, password, place))
}

func TestThrottleForgets(t *testing.T) {
	th, now := account.NewThrottle(), time.Date(2021, 3, 9, 0, 0, 0, 0, time.UTC)
	for i := range 5000 {
		th.Attempt(now, fmt.Sprint("name", i), fmt.Sprint("place", i))
		now = now.Add(time.Second)
	}
	if n := th.Len(); n > 2200 {
		t.Errorf("%d buckets are remembered", n)
	}
	if wait := th.Attempt(now.Add(-time.Hour), "n", "p"); wait != 0 {
		t.Errorf("a clock set back: wait %v", wait)
	}
}

// TestConcurrentGuesses: many at once get no more attempts than one after another.
func TestConcurrentGuesses(t *testing.T) {
	h := begun(t)
	var checked atomic.Int32
	var all sync.WaitGroup
	for range 40 {
		all.Go(func() {
			_, err := h.SignIn(t.Context(), keeperName, "wrong", place)
			if errors.Is(err, account.ErrNoMatch) {
				checked.Add(1)
			}
		})
	}
	all.Wait()
	if n := checked.Load(); n != 8 {
		t.Errorf("%d guesses were checked, want 8", n)
	}
}

// TestConcurrentBearersRace: of many who bear one code, one comes in.
func TestConcurrentBearersRace(t *testing.T) {
	h := begun(t)
	_, code, err := h.Invite(t.Context(), h.by(), "Field", account.Field)
	must(t, err)
	var in atomic.Int32
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			if _, err := h.Redeem(t.Context(), code, password, place); err == nil {
				in.Add(1)
			} else if !errors.Is(err, account.ErrNoMatch) {
				t.Error(err)
			}
		})
	}
	all.Wait()
	if n := in.Load(); n != 1 {
		t.Errorf("%d came in by one code", n)
	}
}

// TestSignInTakesEqualTime: the median over many tries, each name in turn, so that what
// else the computer does falls on all alike. The password is cheap, so that a difference
// is not drowned in it: without it, an unknown name would be answered in a tenth.
func TestSignInTakesEqualTime(t *testing.T) {
	h := begun(t)
	o := h.options()
	o.Cost = account.Cost{MemoryKiB: 2048, Passes: 1, Lanes: 1}
	b, err := account.Open(t.Context(), h.path, o)
	must(t, err)
	defer b.Close()
	got[account.Person](t)(b.SignIn(t.Context(), keeperName, password, place)) // the hash gets that cost
	_, _, err = b.Invite(t.Context(), h.by(), "Invited", account.Reader)
	must(t, err)
	closed := h.join(t, "Closed", account.Reader)
	got[account.Person](t)(b.SignIn(t.Context(), "Closed", password, place))
	must(t, b.Shut(t.Context(), h.by(), closed.ID))
	names := []string{keeperName, "Nobody At All", "Invited", "Closed", "\u202e"}
	const series = 3 // a busy machine may spoil one; a name that is told from others spoils all
	for n := range series {
		odd := h.unequal(t, b, names, rand.New(rand.NewPCG(1, uint64(n))))
		if odd == "" {
			return
		}
		t.Log(odd)
	}
	t.Error("names are answered in times that differ")
}

// unequal times one series of failed attempts, in an order that chance decides, and tells
// of a name whose median is off that of the first by a quarter.
func (h house) unequal(t *testing.T, b *account.Book, names []string, random *rand.Rand) (odd string) {
	t.Helper()
	took := make([][]float64, len(names))
	for range 101 {
		for _, i := range random.Perm(len(names)) {
			h.move(time.Hour)
			begun := time.Now()
			_, err := b.SignIn(t.Context(), names[i], "not the password", place)
			took[i] = append(took[i], time.Since(begun).Seconds())
			wants(t, names[i], err, geo.Invalid, "account.no-match")
		}
	}
	known := median(took[0])
	for i, name := range names {
		m := median(took[i])
		t.Logf("%-14q %.3f ms", name, 1000*m)
		if m < 0.75*known || m > 1.25*known {
			odd = fmt.Sprintf("%q is answered in %.3f ms, a known name in %.3f ms", name, 1000*m, 1000*known)
		}
	}
	return odd
}

func median(v []float64) float64 {
	slices.Sort(v)
	return v[len(v)/2]
}

func TestRoles(t *testing.T) {
	last := account.Nobody
	for _, r := range account.Roles() {
		if back, ok := account.ParseRole(r.String()); !ok || back != r || r <= last {
			t.Errorf("%v is read as %v", r, back)
		}
		last = r
	}
	if _, ok := account.ParseRole("nobody"); ok || account.Role(9).String() != "role(9)" {
		t.Error("roles that are none")
	}
}
