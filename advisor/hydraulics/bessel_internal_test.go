package hydraulics

import (
	"math"
	"math/cmplx"
	"testing"
)

// Abramowitz and Stegun (1964), table 9.8, from memory: K₀ and K₁.
func TestBesselK(t *testing.T) {
	for _, c := range []struct{ x, k0, k1 float64 }{
		{0.1, 2.4270690247, 9.8538447809},
		{1, 0.4210244382, 0.6019072302},
		{2, 0.1138938727, 0.1398658818},
		{10, 1.778006232e-5, 1.864877345e-5},
	} {
		k0, k1 := besselK(c.x)
		const tol = 1e-9 // ten digits
		if got := k0 * math.Exp(-c.x); math.Abs(got/c.k0-1) > tol {
			t.Errorf("K0(%v) = %v, want %v", c.x, got, c.k0)
		}
		if got := k1 * math.Exp(-c.x); math.Abs(got/c.k1-1) > tol {
			t.Errorf("K1(%v) = %v, want %v", c.x, got, c.k1)
		}
	}
}

// The limits: K₀ to -ln(x/2) - γ and x K₁ to 1 for small x; both to √(π/2x) e⁻ˣ for large.
func TestBesselKLimits(t *testing.T) {
	k0, k1 := besselK(1e-8)
	if want := -math.Log(1e-8/2) - eulerGamma; math.Abs(k0/want-1) > 1e-7 || math.Abs(1e-8*k1-1) > 1e-7 {
		t.Errorf("at 1e-8: %v, %v", k0, k1)
	}
	k0, k1 = besselK(1e6)
	if want := math.Sqrt(math.Pi / 2e6); math.Abs(k0/want-1) > 1e-6 || math.Abs(k1/want-1) > 1e-6 {
		t.Errorf("at 1e6: %v, %v, want %v", k0, k1, want)
	}
}

// Transforms with a known origin: 1/(p+1) is e⁻ᵗ, 1/p² is t.
func TestInvert(t *testing.T) {
	for _, at := range []float64{0.1, 1, 3} {
		if got, want := invert(func(p float64) float64 { return 1 / (p + 1) }, at), math.Exp(-at); math.Abs(got-want) > 3e-5 { // five digits of 1, wearing off with time
			t.Errorf("at %v: %v, want %v", at, got, want)
		}
		if got := invert(func(p float64) float64 { return 1 / (p * p) }, at); math.Abs(got/at-1) > 1e-6 {
			t.Errorf("at %v: %v", at, got)
		}
	}
}

// Talbot's inversion in its fixed form (Abate and Valkó, 2004, from memory), on complex
// Bessel functions, shares nothing with Stehfest's but the transform.
func TestInvertAgainstTalbot(t *testing.T) {
	for _, c := range []struct{ alpha, beta float64 }{{0.1, 0.04642}, {0.1, 0.001}, {0.001, 4.642}, {1e-5, 0.1}} {
		got, err := Slug(Aquifer{1, c.alpha}, Well{1, 1}, c.beta)
		if err != nil {
			t.Fatal(err)
		}
		want := talbot(func(p complex128) complex128 {
			x := cmplx.Sqrt(p * complex(c.alpha, 0))
			k0, k1 := complexK(x)
			return k0 / (2*x*k1 + p*k0)
		}, c.beta)
		if math.Abs(got-want) > 1e-5 { // five digits
			t.Errorf("%+v: %v, Talbot has %v", c, got, want)
		}
	}
}

func complexK(z complex128) (k0, k1 complex128) {
	k0, k1 = 0.5, 0.5
	for t := 0.05; t < 60; t += 0.05 {
		c := complex(math.Cosh(t), 0)
		e := cmplx.Exp(-z * (c - 1))
		k0, k1 = k0+e, k1+e*c
		if cmplx.Abs(e*c) < 1e-17*cmplx.Abs(k1) {
			break
		}
	}
	return k0, k1
}

func talbot(f func(complex128) complex128, t float64) float64 {
	const terms = 20
	r := 2.0 * terms / (5 * t)
	sum := 0.5 * real(f(complex(r, 0))) * math.Exp(r*t)
	for k := 1; k < terms; k++ {
		angle := float64(k) * math.Pi / terms
		cot := 1 / math.Tan(angle)
		p := complex(r*angle*cot, r*angle)
		sum += real(cmplx.Exp(p*complex(t, 0)) * f(p) * complex(1, angle+(angle*cot-1)*cot))
	}
	return sum * r / terms
}
