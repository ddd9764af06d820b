package variogram_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"

	"waterstrike/advisor/variogram"
)

// models is every family at several parameters, alone and in structures. A new
// family joins by being listed in Families.
func models(t *testing.T) map[string]variogram.Model {
	t.Helper()
	out := map[string]variogram.Model{}
	var parts []variogram.Model
	for _, family := range variogram.Families() {
		for _, a := range []float64{0.5, 300, 1e5} {
			m, err := family.New(2.5, a)
			if err != nil {
				t.Fatal(err)
			}
			parts = append(parts, m)
			out[fmt.Sprintf("%s %g", family, a)] = m
			s, err := variogram.NewStructure(0.4, m)
			if err != nil {
				t.Fatal(err)
			}
			out[fmt.Sprintf("%s %g", s.Name(), a)] = s
		}
	}
	all, err := variogram.NewStructure(0, parts...)
	if err != nil {
		t.Fatal(err)
	}
	out["sum of all"] = all
	return out
}

func TestModelLaws(t *testing.T) {
	for name, m := range models(t) {
		t.Run(name, func(t *testing.T) {
			if m.Gamma(0) != 0 || m.Cov(0) != m.Sill() {
				t.Errorf("at 0: gamma %g, cov %g, sill %g", m.Gamma(0), m.Cov(0), m.Sill())
			}
			last := 0.0
			for h := 1e-3; h < 1e7; h *= 1.3 {
				g := m.Gamma(h)
				if g < last || g > m.Sill()*(1+1e-15) {
					t.Errorf("gamma(%g) = %g after %g, sill %g", h, g, last, m.Sill())
				}
				if math.Abs(g+m.Cov(h)-m.Sill()) > 1e-14*m.Sill() { // rounding of one sum
					t.Errorf("gamma + cov at %g is not the sill", h)
				}
				last = g
			}
		})
	}
}

// One part has its whole sill at the practical range, or 95 % of it.
func TestPracticalRange(t *testing.T) {
	for _, family := range variogram.Families() {
		m, err := family.New(4, 700)
		if err != nil {
			t.Fatal(err)
		}
		want := 0.95
		if family == variogram.FamilySpherical {
			want = 1
		}
		if got := m.Gamma(m.Range()) / 4; math.Abs(got-want) > 1e-12 {
			t.Errorf("%s: %g of the sill at its range, want %g", family, got, want)
		}
	}
}

func TestAddCovIsCov(t *testing.T) {
	h := []float64{0, 1e-9, 1, 250, 299.999, 300, 301, 1e6}
	for name, m := range models(t) {
		dst := make([]float64, len(h))
		for i := range dst {
			dst[i] = float64(i)
		}
		m.AddCov(dst, h)
		for i := range h {
			if want := float64(i) + m.Cov(h[i]); math.Abs(dst[i]-want) > 1e-13*(1+want) {
				t.Errorf("%s at %g: %g, want %g", name, h[i], dst[i], want)
			}
		}
	}
}

func TestPositiveDefinite(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 1))
	for name, m := range models(t) {
		for range 5 {
			const n = 40
			p := make([]variogram.XY, n)
			for i := range p {
				p[i] = variogram.XY{X: 2000 * r.Float64(), Y: 2000 * r.Float64()}
			}
			cov := mat.NewSymDense(n, nil)
			for i := range n {
				for j := range i + 1 {
					cov.SetSym(i, j, m.Cov(p[i].DistanceTo(p[j])))
				}
			}
			var eigen mat.EigenSym
			if !eigen.Factorize(cov, false) {
				t.Fatal("no eigenvalues")
			}
			// Rounding of an eigenvalue: about n times the unit roundoff of the largest.
			if least := eigen.Values(nil)[0]; least < -1e-13*n*m.Sill() {
				t.Errorf("%s: eigenvalue %g", name, least)
			}
		}
	}
}

// Semivariances by gstat 2.1-0 variogramLine; see testdata/reference/README.md.
func TestModelReference(t *testing.T) {
	tab := reference(t, "models/gstat_lines.csv")
	families := map[string]variogram.Family{
		"Sph": variogram.FamilySpherical, "Exp": variogram.FamilyExponential, "Mat1.5": variogram.FamilyMatern32,
		"Mat2.5": variogram.FamilyMatern52,
	}
	for i, row := range tab.Rows {
		m := structureOf(t, families[row["model"]], 0.05, 0.6, 300)
		const tol = 1e-12 // gstat computes the Matérn by Bessel functions
		if h := tab.Number(i, "dist"); relative(m.Gamma(h), tab.Number(i, "gamma")) > tol {
			t.Errorf("%s at %g: %.15g, want %s", row["model"], h, m.Gamma(h), row["gamma"])
		}
	}
}

func TestConstructorsRefuse(t *testing.T) {
	var bad *variogram.ParameterError
	for _, family := range variogram.Families() {
		for _, p := range [][2]float64{{0, 1}, {1, 0}, {-1, 1}, {1, math.NaN()}, {math.Inf(1), 1}} {
			if _, err := family.New(p[0], p[1]); !errors.As(err, &bad) {
				t.Errorf("%s accepts %v: %v", family, p, err)
			}
		}
	}
	if _, err := variogram.NewStructure(-1); !errors.As(err, &bad) {
		t.Error("negative micro-scale variance:", err)
	}
	if _, err := variogram.NewStructure(0); !errors.As(err, &bad) {
		t.Error("empty structure:", err)
	}
	if _, err := variogram.NewStructure(1, variogram.Exponential{}); !errors.As(err, &bad) {
		t.Error("a part nobody constructed:", err)
	}
	if _, err := variogram.NewAnisotropy(30, 1.5); !errors.As(err, &bad) {
		t.Error("ratio above 1:", err)
	}
}

func TestAnisotropyReduce(t *testing.T) {
	a, err := variogram.NewAnisotropy(30, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	origin := a.Reduce(variogram.XY{})
	sin, cos := math.Sincos(30 * math.Pi / 180)
	along := a.Reduce(variogram.XY{X: 100 * sin, Y: 100 * cos}).DistanceTo(origin)
	across := a.Reduce(variogram.XY{X: 100 * cos, Y: -100 * sin}).DistanceTo(origin)
	if math.Abs(along-100) > 1e-12 || math.Abs(across-200) > 1e-12 { // rounding of two products
		t.Errorf("100 m along count %g, across %g; want 100 and 200", along, across)
	}
}
