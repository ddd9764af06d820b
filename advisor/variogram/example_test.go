package variogram_test

import (
	"fmt"

	"waterstrike/advisor/variogram"
)

// A level field with 0.3 m² of variation too short to be seen between bores.
func ExampleNewStructure() {
	regional, err := variogram.FamilyExponential.New(16, 5000)
	if err != nil {
		fmt.Println(err)
		return
	}
	m, err := variogram.NewStructure(0.3, regional)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: sill %.1f m², range %.0f m\n", m.Name(), m.Sill(), m.Range())
	fmt.Printf("two bores 1 m apart: %.2f m²; 5 km apart: %.2f m²\n", m.Gamma(1), m.Gamma(5000))
	// Output:
	// micro+exponential: sill 16.3 m², range 14979 m
	// two bores 1 m apart: 0.30 m²; 5 km apart: 10.41 m²
}
