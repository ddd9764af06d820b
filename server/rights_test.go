package server_test

import (
	"fmt"
	"net/http"
	"net/url"
	"os"
	"slices"
	"strings"
	"testing"

	"waterstrike/server/account"
)

// rights is the table of routes and roles, written a second time by hand: a mark where a
// role may, in the order stranger, reader, field, planner, keeper. The address is one that
// the route answers.
const rights = `
GET  /                        /                        - x x x x
GET  /advice                  /advice?at=0.1+0.2       - x x x x
GET  /advice.json             /advice.json?at=0.1+0.2  - x x x x
GET  /building                /building?at=0.1+0.2     - x x x x
GET  /building.pdf            /building.pdf?at=0.1+0.2 - x x x x
GET  /sheets                  /sheets                  - x x x x
GET  /sheets.pdf              /sheets.pdf?points=0.1+0.2 - x x x x
GET  /map.svg                 /map.svg                 - x x x x
GET  /map                     /map                     - x x x x
GET  /list                    /list                    - x x x x
GET  /spot                    /spot?at=0.1+0.2         - x x x x
GET  /find.json               /find.json?q=belle       - x x x x
GET  /section                 /section                 - x x x x
GET  /section.svg             /section.svg?a=0.1,0.1&b=0.2,0.2 - x x x x
GET  /tiles/bores/:z/:x/:y    /tiles/bores/0/0/0       - x x x x
GET  /tiles/places/:z/:x/:y   /tiles/places/0/0/0      - x x x x
GET  /tiles/contours/:z/:x/:y /tiles/contours/0/0/0    - x x x x
GET  /tiles/shade/:z/:x/:y    /tiles/shade/0/0/0       - x x x x
GET  /tiles/charts/:chart/:z/:x/:y /tiles/charts/0/0/0/0 - x x x x
GET  /surface.json            /surface.json?of=chance  - x x x x
GET  /tiles/surface/:of/:z/:x/:y /tiles/surface/chance/9/256/255 - x x x x
GET  /trust                   /trust                   - x x x x
GET  /trust.json              /trust.json              - x x x x
GET  /learnt                  /learnt                  - x x x x
GET  /learnt.json             /learnt.json             - x x x x
GET  /pumping                 /pumping                 - x x x x
POST /pumping                 /pumping                 - x x x x
GET  /pumping.json            /pumping.json?readings=discharge:9+m3/d%0As+(m);r+(m)%0A1;2%0A2;1%0A3;.5 - x x x x
GET  /pumping.pdf             /pumping.pdf?readings=discharge:9+m3/d%0As+(m);r+(m)%0A1;2%0A2;1%0A3;.5 - x x x x
GET  /bores/new               /bores/new               - - x x x
GET  /bores/:bore/edit        /bores/00000000-0000-4000-8000-000000000001/edit - - x x x
GET  /bores/:bore             /bores/00000000-0000-4000-8000-000000000001 - x x x x
GET  /bores/:bore/data.json   /bores/00000000-0000-4000-8000-000000000001/data.json - x x x x
POST /bores                   /bores                   - - x x x
POST /bores/check             /bores/check             - - x x x
POST /bores/:bore/undo        /bores/00000000-0000-4000-8000-000000000001/undo - - x x x
POST /bores/:bore/hide        /bores/00000000-0000-4000-8000-000000000001/hide - - - x x
POST /bores/:bore/restore     /bores/00000000-0000-4000-8000-000000000001/restore - - - x x
GET  /choose                  /choose                  - - - x x
GET  /choose.json             /choose.json?budget=9&weeks=1 - - - x x
GET  /choose.csv              /choose.csv?budget=9&weeks=1  - - - x x
GET  /choose.pdf              /choose.pdf?budget=9&weeks=1  - - - x x
POST /choose/stop             /choose/stop             - - - x x
GET  /served                  /served                  - x x x x
GET  /served.json             /served.json             - x x x x
GET  /served.pdf              /served.pdf              - x x x x
GET  /served.html             /served.html             - x x x x
GET  /features                /features                - x x x x
GET  /features/api            /features/api            - x x x x
GET  /features/conformance    /features/conformance    - x x x x
GET  /features/collections    /features/collections    - x x x x
GET  /features/collections/:collection /features/collections/bores - x x x x
GET  /features/collections/:collection/items /features/collections/bores/items - x x x x
GET  /features/collections/:collection/items/:feature /features/collections/bores/items/bb - x x x x
GET  /hole                    /hole?at=0.1+0.2         - - x x x
GET  /hole/pack.json          /hole/pack.json?at=0.1+0.2 - - x x x
GET  /hole/keeper.js          /hole/keeper.js          x x x x x
GET  /sitings/new             /sitings/new             - - x x x
POST /sitings                 /sitings                 - - x x x
GET  /sitings/:siting         /sitings/00000000-0000-4000-8000-000000000001 - x x x x
GET  /sitings/:siting/edit    /sitings/00000000-0000-4000-8000-000000000001/edit - - x x x
POST /sitings/:siting/undo    /sitings/00000000-0000-4000-8000-000000000001/undo - - x x x
POST /sitings/:siting/hide    /sitings/00000000-0000-4000-8000-000000000001/hide - - - x x
POST /sitings/:siting/restore /sitings/00000000-0000-4000-8000-000000000001/restore - - - x x
GET  /health                  /health                  x x x x x
GET  /static/*                /static/css/base.css     x x x x x
GET  /sign-in                 /sign-in                 x x x x x
POST /sign-in                 /sign-in                 x x x x x
POST /sign-out                /sign-out                x x x x x
GET  /begin                   /begin                   x x x x x
POST /begin                   /begin                   x x x x x
GET  /join                    /join                    x x x x x
POST /join                    /join                    x x x x x
GET  /me                      /me                      - x x x x
POST /me                      /me                      - x x x x
GET  /people                  /people                  - - - - x
POST /people                  /people                  - - - - x
POST /people/:person/role     /people/1/role           - - - - x
POST /people/:person/code     /people/1/code           - - - - x
POST /people/:person/shut     /people/1/shut           - - - - x
POST /people/:person/readmit  /people/1/readmit        - - - - x
GET  /shares                  /shares                  - - - x x
POST /shares                  /shares                  - - - x x
POST /shares/:share/withdraw  /shares/1/withdraw       - - - x x
GET  /shared/:token           /shared/none             x x x x x
GET  /shared/:token/map.svg   /shared/none/map.svg     x x x x x
GET  /shared/:token/features  /shared/none/features    x x x x x
GET  /shared/:token/features/api         /shared/none/features/api x x x x x
GET  /shared/:token/features/conformance /shared/none/features/conformance x x x x x
GET  /shared/:token/features/collections /shared/none/features/collections x x x x x
GET  /shared/:token/features/collections/:collection /shared/none/features/collections/bores x x x x x
GET  /shared/:token/features/collections/:collection/items /shared/none/features/collections/bores/items x x x x x
GET  /shared/:token/features/collections/:collection/items/:feature /shared/none/features/collections/bores/items/bb x x x x x
GET  /intake                  /intake                  - - - x x
POST /intake                  /intake                  - - - x x
GET  /intake/:arrival         /intake/0123456789abcdef - - - x x
GET  /intake/:arrival/mapping.json /intake/0123456789abcdef/mapping.json - - - x x
POST /intake/:arrival/look    /intake/0123456789abcdef/look - - - x x
POST /intake/:arrival/match   /intake/0123456789abcdef/match - - - x x
POST /intake/:arrival/apply   /intake/0123456789abcdef/apply - - - x x
POST /intake/:arrival/discard /intake/0123456789abcdef/discard - - - x x
POST /intake/imports/:import/take-back /intake/imports/none/take-back - - - x x
GET  /phone                   /phone                   x x x x x
GET  /authority.crt           /authority.crt           x x x x x
`

type right struct {
	method, route, target string
	may                   []bool // by role, strangers first
}

func readRights(t *testing.T) []right {
	t.Helper()
	var all []right
	for line := range strings.Lines(strings.TrimSpace(rights)) {
		f := strings.Fields(line)
		if len(f) != 8 {
			t.Fatalf("rights: %q", line)
		}
		r := right{method: f[0], route: f[1], target: f[2]}
		for _, mark := range f[3:] {
			r.may = append(r.may, mark == "x")
		}
		all = append(all, r)
	}
	return all
}

// TestRouteTableIsWhole walks the router: every route stands in the table above, and the
// other way.
func TestRouteTableIsWhole(t *testing.T) {
	h := housed(t, secured(t), taking(t))
	var routed, written []string
	for _, r := range h.Echo().Routes() {
		routed = append(routed, r.Method+" "+r.Path)
	}
	for _, r := range readRights(t) {
		written = append(written, r.method+" "+r.route)
		if r.method == http.MethodGet {
			written = append(written, http.MethodHead+" "+r.route)
		}
	}
	slices.Sort(routed)
	slices.Sort(written)
	if !slices.Equal(routed, written) {
		t.Errorf("routes:\n%s\nwant:\n%s", strings.Join(routed, "\n"), strings.Join(written, "\n"))
	}
}

// TestEveryRoleAtEveryRoute asks each route as each role, and with HEAD where GET is.
func TestEveryRoleAtEveryRoute(t *testing.T) {
	h := housed(t, secured(t), taking(t))
	visitors := []*browsing{h.browse()}
	for _, role := range account.Roles() {
		h.joins(t, role.String(), role)
		visitors = append(visitors, h.signedIn(t, role.String()))
	}
	for _, r := range readRights(t) {
		methods := []string{r.method}
		if r.method == http.MethodGet {
			methods = append(methods, http.MethodHead)
		}
		for i, visitor := range visitors {
			for _, method := range methods {
				again := *visitor // what signs out or changes a password must not end the visit
				again.cookies = map[string]string{}
				for name, value := range visitor.cookies {
					again.cookies[name] = value
				}
				if r.route == "/sign-out" {
					again = *h.freshly(t, i)
				}
				w := again.do(method, r.target, url.Values{}.Encode(), "Accept", "application/json")
				refused := w.Code == http.StatusUnauthorized && strings.Contains(w.Body.String(), "problem.sign-in-first") ||
					w.Code == http.StatusForbidden || method == http.MethodHead && w.Code == http.StatusUnauthorized
				if refused == r.may[i] {
					t.Errorf("%s %s as %v: %d", method, r.target, account.Role(i), w.Code)
				}
				if want := map[bool]int{true: http.StatusUnauthorized, false: http.StatusForbidden}[i == 0]; refused && w.Code != want {
					t.Errorf("%s %s as %v is refused with %d, want %d", method, r.target, account.Role(i), w.Code, want)
				}
			}
		}
	}
}

// freshly signs a role in anew, or nobody.
func (h house) freshly(t *testing.T, role int) *browsing {
	t.Helper()
	if role == 0 {
		return h.browse()
	}
	return h.signedIn(t, account.Role(role).String())
}

// TestUnknownAddressesTellNothing: who may not read sees no ground on the page of an
// address that is not there.
func TestUnknownAddressesTellNothing(t *testing.T) {
	h := housed(t, secured(t), taking(t))
	for _, target := range []string{"/none", "/advice/none", "/people/1", "/people/1/role/x", "/shared", "/shared/a/b/c", "/sign-in/a", "/static"} {
		w := h.browse().get(target)
		if w.Code != http.StatusNotFound && w.Code != http.StatusMethodNotAllowed {
			t.Errorf("%s: %d", target, w.Code)
		}
		for _, ground := range []string{"Belle", "bores known", `name="at"`} {
			if strings.Contains(w.Body.String(), ground) {
				t.Errorf("%s tells %q to a stranger", target, ground)
			}
		}
	}
	for _, method := range []string{http.MethodPut, http.MethodDelete, http.MethodPatch, http.MethodOptions, http.MethodTrace} {
		for _, target := range []string{"/", "/people", "/shares/1/withdraw"} {
			if w := h.signedIn(t, "Ana Keeper").do(method, target, ""); w.Code != http.StatusMethodNotAllowed || w.Header().Get("Allow") == "" {
				t.Errorf("%s %s: %d, Allow %q", method, target, w.Code, w.Header().Get("Allow"))
			}
		}
	}
}

func TestEveryRouteOfPeopleIsDescribed(t *testing.T) {
	doc, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range readRights(t) {
		if line := fmt.Sprintf("//\t%-4s %s ", r.method, r.route); !strings.Contains(string(doc), line) {
			t.Errorf("doc.go does not describe %s %s", r.method, r.route)
		}
	}
}
