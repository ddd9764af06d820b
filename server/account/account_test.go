package account_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/server/account"
)

// cheap makes tests quick; what a password costs in earnest is checked by TestDefaultCost.
var cheap = account.Cost{MemoryKiB: 64, Passes: 1, Lanes: 1}

// clock is a time that tests move.
type clock struct{ at time.Time }

func (c *clock) now() time.Time           { return c.at }
func (c *clock) move(by time.Duration)    { c.at = c.at.Add(by) }
func (c *clock) options() account.Options { return account.Options{Now: c.now, Cost: cheap} }

// house is an open book with a keeper.
type house struct {
	*account.Book
	*clock
	path   string
	keeper account.Person
}

const (
	keeperName = "Ana Keeper"
	password   = "three dry months"
	place      = "192.0.2.7"
)

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func got[T any](t testing.TB) func(v T, err error) T {
	return func(v T, err error) T {
		t.Helper()
		must(t, err)
		return v
	}
}

func empty(t testing.TB) house {
	t.Helper()
	h := house{clock: &clock{time.Date(2021, 3, 9, 12, 0, 0, 0, time.UTC)}, path: filepath.Join(t.TempDir(), "accounts.db")}
	b, err := account.Open(t.Context(), h.path, h.options())
	must(t, err)
	t.Cleanup(func() { b.Close() })
	h.Book = b
	return h
}

func begun(t testing.TB) house {
	t.Helper()
	h := empty(t)
	code := got[string](t)(h.FirstCode(t.Context()))
	h.keeper = got[account.Person](t)(h.Begin(t.Context(), code, keeperName, password, place))
	return h
}

func (h house) by() account.By { return geo.Some(h.keeper.ID) }

// join invites somebody and redeems the code.
func (h house) join(t testing.TB, name string, role account.Role) account.Person {
	t.Helper()
	_, code, err := h.Invite(t.Context(), h.by(), name, role)
	must(t, err)
	return got[account.Person](t)(h.Redeem(t.Context(), code, password, place))
}

func wants(t *testing.T, what string, err error, kind geo.Kind, code geo.Code) {
	t.Helper()
	var e *geo.Error
	if !errors.As(err, &e) || e.Kind != kind || e.Message.Code != code {
		t.Errorf("%s: %v, want %v (%s)", what, err, kind, code)
	}
}

func TestBegin(t *testing.T) {
	ctx, h := t.Context(), empty(t)
	if need, err := h.NeedsKeeper(ctx); err != nil || !need {
		t.Fatalf("an empty book needs no keeper: %v", err)
	}
	old := got[string](t)(h.FirstCode(ctx))
	code := got[string](t)(h.FirstCode(ctx))
	_, err := h.Begin(ctx, old, keeperName, password, place)
	wants(t, "a code that was replaced", err, geo.Invalid, "account.bad-first-code")
	_, err = h.Begin(ctx, code, keeperName, "short", place)
	wants(t, "a short password", err, geo.Invalid, "account.password-short")
	_, err = h.Begin(ctx, code, " ", password, place)
	wants(t, "no name", err, geo.Invalid, "account.bad-name")
	_, err = h.Redeem(ctx, code, password, place)
	wants(t, "the first code as an invitation", err, geo.Invalid, "account.bad-code")
	_, err = h.Bearer(ctx, code, place)
	wants(t, "whose the first code is", err, geo.Invalid, "account.bad-code")

	p, err := h.Begin(ctx, strings.ToLower(strings.ReplaceAll(code, "-", " ")), keeperName, password, place)
	must(t, err)
	if p.Role != account.Keeper || p.Name != keeperName || !p.Joined {
		t.Errorf("the first keeper is %+v", p)
	}
	_, err = h.Begin(ctx, code, "Another", password, place)
	wants(t, "the code a second time", err, geo.Invalid, "account.bad-code")
	_, err = h.FirstCode(ctx)
	wants(t, "a first code beside a keeper", err, geo.Conflict, "account.has-keeper")
}

func TestFirstCodeEnds(t *testing.T) {
	ctx, h := t.Context(), empty(t)
	code := got[string](t)(h.FirstCode(ctx))
	h.move(25 * time.Hour)
	_, err := h.Begin(ctx, code, keeperName, password, place)
	wants(t, "a code of yesterday", err, geo.Invalid, "account.bad-first-code")
}

func TestInvitation(t *testing.T) {
	ctx, h := t.Context(), begun(t)
	p, code, err := h.Invite(ctx, h.by(), "  Anaïs   Field ", account.Field)
	must(t, err)
	if p.Name != "Anaïs Field" || p.Joined || p.CodeUntil.Or(time.Time{}) != h.at.Add(7*24*time.Hour) {
		t.Errorf("invited: %+v", p)
	}
	_, _, err = h.Invite(ctx, h.by(), "ANAÏS FIELD", account.Reader)
	wants(t, "the name in capitals", err, geo.Conflict, "account.name-taken")
	_, err = h.SignIn(ctx, p.Name, "", place)
	wants(t, "before there is a password", err, geo.Invalid, "account.no-match")
	_, err = h.Redeem(ctx, code, "anaïs field 1", place)
	wants(t, "the name as a password", err, geo.Invalid, "account.password-simple")
	if b, err := h.Bearer(ctx, code, place); err != nil || b.ID != p.ID || b.Joined {
		t.Errorf("the code is for %+v, %v", b, err)
	}
	p = got[account.Person](t)(h.Redeem(ctx, code, password, place))
	if p.Role != account.Field || !p.Joined || p.CodeUntil.Known() {
		t.Errorf("joined: %+v", p)
	}
	_, err = h.Redeem(ctx, code, password+"2", place)
	wants(t, "the code a second time", err, geo.Invalid, "account.bad-code")
	if !errors.Is(err, account.ErrNoMatch) {
		t.Error("a wrong code does not say that it lets nobody in")
	}
	for _, name := range []string{"Anaïs Field", "anaïs field", " ANAI\u0308S  field "} {
		if in, err := h.SignIn(ctx, name, password, place); err != nil || in.ID != p.ID {
			t.Errorf("%q: %+v, %v", name, in, err)
		}
	}
}

func TestCodesEnd(t *testing.T) {
	ctx, h := t.Context(), begun(t)
	_, code, err := h.Invite(ctx, h.by(), "Field", account.Field)
	must(t, err)
	h.move(7*24*time.Hour + time.Second)
	_, err = h.Redeem(ctx, code, password, place)
	wants(t, "a code of last week", err, geo.Invalid, "account.bad-code")
}

func TestReset(t *testing.T) {
	ctx, h := t.Context(), begun(t)
	p := h.join(t, "Field", account.Field)
	_, first, err := h.NewCode(ctx, h.by(), p.ID)
	must(t, err)
	_, code, err := h.NewCode(ctx, h.by(), p.ID)
	must(t, err)
	if _, err := h.SignIn(ctx, "Field", password, place); err != nil {
		t.Errorf("the password must work until the code is used: %v", err)
	}
	_, err = h.Redeem(ctx, first, "another long one", place)
	wants(t, "the code before", err, geo.Invalid, "account.bad-code")
	again := got[account.Person](t)(h.Redeem(ctx, code, "another long one", place))
	if again.Stamp <= p.Stamp {
		t.Error("sessions of before the reset go on")
	}
	_, err = h.SignIn(ctx, "Field", password, place)
	wants(t, "the password of before", err, geo.Invalid, "account.no-match")
}

func TestChangePassword(t *testing.T) {
	ctx, h := t.Context(), begun(t)
	_, err := h.ChangePassword(ctx, h.keeper.ID, "not the present one", "a brand new phrase", place)
	wants(t, "a wrong present password", err, geo.Invalid, "account.not-present-password")
	_, err = h.ChangePassword(ctx, h.keeper.ID, password, "aaaaaaaaaaaaaaa", place)
	wants(t, "one letter", err, geo.Invalid, "account.password-simple")
	p := got[account.Person](t)(h.ChangePassword(ctx, h.keeper.ID, password, "a brand new phrase", place))
	if p.Stamp <= h.keeper.Stamp {
		t.Error("other sessions go on")
	}
	got[account.Person](t)(h.SignIn(ctx, keeperName, "a brand new phrase", place))
}

func TestRights(t *testing.T) {
	ctx, h := t.Context(), begun(t)
	wants(t, "the last keeper's role", h.SetRole(ctx, h.by(), h.keeper.ID, account.Reader), geo.Conflict, "account.last-keeper")
	wants(t, "the last keeper's door", h.Shut(ctx, h.by(), h.keeper.ID), geo.Conflict, "account.last-keeper")
	invited, _, err := h.Invite(ctx, h.by(), "Second", account.Keeper)
	must(t, err)
	wants(t, "an invited keeper is none yet", h.Shut(ctx, h.by(), h.keeper.ID), geo.Conflict, "account.last-keeper")
	if p := got[account.Person](t)(h.Person(ctx, h.keeper.ID)); p.Closed || p.Role != account.Keeper {
		t.Errorf("a refused change was made: %+v", p)
	}
	second := h.join(t, "Third", account.Keeper)
	must(t, h.SetRole(ctx, h.by(), invited.ID, account.Planner))
	must(t, h.Shut(ctx, geo.Some(second.ID), h.keeper.ID))
	_, err = h.SignIn(ctx, keeperName, password, place)
	wants(t, "a person who may not come in", err, geo.Invalid, "account.no-match")
	_, _, err = h.NewCode(ctx, geo.Some(second.ID), h.keeper.ID)
	wants(t, "a code for a person who may not come in", err, geo.Conflict, "account.is-closed")
	must(t, h.Readmit(ctx, geo.Some(second.ID), h.keeper.ID))
	if p := got[account.Person](t)(h.SignIn(ctx, keeperName, password, place)); p.Stamp < h.keeper.Stamp+2 {
		t.Error("sessions of before come alive again")
	}
	if err := h.SetRole(ctx, h.by(), 999, account.Reader); geo.KindOf(err) != geo.NotFound {
		t.Errorf("nobody's role: %v", err)
	}
	wants(t, "no role", h.SetRole(ctx, h.by(), second.ID, account.Nobody), geo.Invalid, "account.no-role")
}

// TestEveryChangeIsLogged makes each kind of change and reads the log.
func TestEveryChangeIsLogged(t *testing.T) {
	ctx, h := t.Context(), begun(t)
	p := h.join(t, "Field", account.Field)
	_, _, err := h.NewCode(ctx, account.By{}, p.ID)
	must(t, err)
	must(t, h.SetRole(ctx, h.by(), p.ID, account.Planner))
	must(t, h.SetRole(ctx, h.by(), p.ID, account.Planner)) // no change, no line
	got[account.Person](t)(h.ChangePassword(ctx, h.keeper.ID, password, "a brand new phrase", place))
	s, _, err := h.MakeShare(ctx, h.keeper.ID, "for the donor", true, 30)
	must(t, err)
	must(t, h.Withdraw(ctx, h.keeper.ID, s.ID))
	must(t, h.Withdraw(ctx, h.keeper.ID, s.ID))
	must(t, h.Shut(ctx, h.by(), p.ID))
	must(t, h.Readmit(ctx, h.by(), p.ID))
	want := []string{
		"readmitted Ana Keeper Field nobody nobody", "shut Ana Keeper Field nobody nobody",
		"share-withdrawn Ana Keeper for the donor nobody nobody", "share-made Ana Keeper for the donor nobody nobody",
		"password-changed Ana Keeper Ana Keeper nobody nobody", "role-changed Ana Keeper Field field planner",
		"code-made  Field nobody nobody", "code-used Field Field nobody nobody",
		"invited Ana Keeper Field nobody field", "keeper-made  Ana Keeper nobody keeper",
	}
	changes, err := h.Changes(ctx, 100)
	must(t, err)
	if len(changes) != len(want) {
		t.Fatalf("%d lines, want %d: %+v", len(changes), len(want), changes)
	}
	for i, c := range changes {
		line := strings.Join([]string{string(c.What), c.AuthorName, c.Subject, c.Former.String(), c.Now.String()}, " ")
		if line != want[i] || !c.At.Equal(h.at) {
			t.Errorf("line %d: %q at %v, want %q", i, line, c.At, want[i])
		}
	}
}

func TestShares(t *testing.T) {
	ctx, h := t.Context(), begun(t)
	s, token, err := h.MakeShare(ctx, h.keeper.ID, " for\nthe  donor ", true, 30)
	must(t, err)
	if s.Label != "for the donor" || !s.Blurred || s.MakerName != keeperName || s.Expires != h.at.AddDate(0, 0, 30) || len(token) < 43 {
		t.Errorf("made: %+v, token of %d", s, len(token))
	}
	found := got[account.Share](t)(h.ShareOf(ctx, token))
	if found != s {
		t.Errorf("found %+v, made %+v", found, s)
	}
	other, second, err := h.MakeShare(ctx, h.keeper.ID, "for the ministry", false, 1)
	must(t, err)
	must(t, h.Withdraw(ctx, h.keeper.ID, other.ID))
	h.move(29 * 24 * time.Hour)
	got[account.Share](t)(h.ShareOf(ctx, token))
	for name, bad := range map[string]string{
		"withdrawn": second, "none": "", "part": token[:42], "longer": token + "x", "case": strings.ToUpper(token), "sql": "' OR 1=1 --",
	} {
		_, err := h.ShareOf(ctx, bad)
		wants(t, name, err, geo.NotFound, "account.no-share")
	}
	h.move(24 * time.Hour)
	_, err = h.ShareOf(ctx, token)
	wants(t, "ended", err, geo.NotFound, "account.no-share")
	for _, days := range []int{0, -1, 367} {
		_, _, err = h.MakeShare(ctx, h.keeper.ID, "x", false, days)
		wants(t, "days", err, geo.Invalid, "account.bad-days")
	}
	_, _, err = h.MakeShare(ctx, h.keeper.ID, " ", false, 1)
	wants(t, "no label", err, geo.Invalid, "account.bad-label")
	if all, err := h.Shares(ctx); err != nil || len(all) != 2 || all[0].ID != other.ID {
		t.Errorf("list: %+v, %v", all, err)
	}
}

func TestSessionsAreKept(t *testing.T) {
	ctx, h := t.Context(), begun(t)
	s := h.Sessions()
	must(t, s.Commit("a", []byte("one"), h.at.Add(time.Hour)))
	must(t, s.Commit("a", []byte("two"), h.at.Add(time.Hour)))
	must(t, s.Commit("b", []byte("other"), h.at.Add(2*time.Hour)))
	if data, found, err := s.Find("a"); err != nil || !found || string(data) != "two" {
		t.Errorf("%q, %v, %v", data, found, err)
	}
	h.move(time.Hour)
	if _, found, err := s.Find("a"); found || err != nil {
		t.Errorf("a session that ended is found: %v", err)
	}
	must(t, s.Commit("c", []byte{}, h.at.Add(time.Hour)))
	must(t, s.Delete("b"))
	must(t, s.Delete("b"))
	if _, found, _ := s.FindCtx(ctx, "b"); found {
		t.Error("a deleted session is found")
	}
	if n := account.Count(t, h.Book, "session"); n != 1 {
		t.Errorf("%d sessions are kept, want 1: those that ended are swept out", n)
	}
}

func TestOpenAgain(t *testing.T) {
	h := begun(t)
	other, err := account.Open(t.Context(), h.path, h.options())
	must(t, err)
	defer other.Close()
	got[account.Person](t)(other.SignIn(t.Context(), keeperName, password, place))
	h.join(t, "Field", account.Field)
	if all, err := other.People(t.Context()); err != nil || len(all) != 2 || all[0].Name != keeperName {
		t.Errorf("%+v, %v", all, err)
	}
	if p, err := other.Named(t.Context(), "FIELD"); err != nil || p.Role != account.Field {
		t.Errorf("%+v, %v", p, err)
	}
	_, err = other.Named(t.Context(), "Nobody")
	wants(t, "nobody of that name", err, geo.NotFound, "account.no-person")
}

func TestOnlyTheOwnerReadsTheFile(t *testing.T) {
	if runtime.GOOS == "windows" {
		return // rights are kept in another way there
	}
	h := begun(t)
	for _, name := range []string{h.path, h.path + "-wal", h.path + "-shm"} {
		info, err := os.Stat(name)
		must(t, err)
		if mode := info.Mode().Perm(); mode != 0o600 {
			t.Errorf("%s has the mode %o", filepath.Base(name), mode)
		}
	}
	must(t, os.Chmod(h.path, 0o644))
	b, err := account.Open(t.Context(), h.path, h.options())
	must(t, err)
	defer b.Close()
	if info, _ := os.Stat(h.path); info.Mode().Perm() != 0o600 {
		t.Errorf("rights that others have are left: %o", info.Mode().Perm())
	}
}

func TestOpenRefuses(t *testing.T) {
	dir, h := t.TempDir(), begun(t)
	options := account.DefaultOptions()
	words := filepath.Join(dir, "words.db")
	must(t, os.WriteFile(words, []byte(strings.Repeat("not a database ", 200)), 0o600))
	_, err := account.Open(context.Background(), words, options)
	wants(t, "words", err, geo.Invalid, "account.damaged")
	foreign := filepath.Join(dir, "foreign.db")
	account.Exec(t, foreign, "CREATE TABLE other (a)")
	_, err = account.Open(context.Background(), foreign, options)
	wants(t, "another program's file", err, geo.Invalid, "account.not-ours")
	account.Exec(t, h.path, "INSERT INTO migration (version_id, is_applied) VALUES (999, 1)")
	_, err = account.Open(context.Background(), h.path, options)
	wants(t, "a newer program's file", err, geo.Newer, "problem.file-newer")
	_, err = account.Open(context.Background(), filepath.Join(dir, "none", "accounts.db"), options)
	wants(t, "no folder", err, geo.Conflict, "problem.not-writable")
}

func TestTheLogIsNotRewritten(t *testing.T) {
	h := begun(t)
	for _, statement := range []string{"UPDATE change SET what = 'x'", "DELETE FROM change"} {
		if err := account.TryExec(h.path, statement); err == nil {
			t.Errorf("%s went through", statement)
		}
	}
}

// TestNothingIsInClear looks for every secret in the bytes of the file.
func TestNothingIsInClear(t *testing.T) {
	ctx, h := t.Context(), begun(t)
	_, code, err := h.Invite(ctx, h.by(), "Field", account.Field)
	must(t, err)
	_, token, err := h.MakeShare(ctx, h.keeper.ID, "donor", false, 1)
	must(t, err)
	must(t, h.Close())
	bytes, err := os.ReadFile(h.path)
	must(t, err)
	for _, secret := range []string{password, code, strings.ReplaceAll(code, "-", ""), token} {
		if strings.Contains(string(bytes), secret) {
			t.Errorf("%q stands in the file", secret)
		}
	}
	if !strings.Contains(string(bytes), keeperName) {
		t.Error("the search itself finds nothing")
	}
}
