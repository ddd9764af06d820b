package hydraulics

import "math"

// JacobCorrected returns the drawdown that ground of the same but unchanging thickness
// would show,
//
//	s′ = s - s²/(2b),
//
// for a drawdown s of a water table in ground of which b metres were wet. The formulas of
// confined ground hold for s′.
//
//   - Units: metres.
//   - Domain: 0 <= s <= b.
//   - Errors: [InputError].
//   - Source: Jacob (1944), from memory.
//   - Checked by: TestJacobCorrection, TestDupuitIsThiemWithJacob.
func JacobCorrected(drawdownM, thickM float64) (float64, error) {
	if err := positive(named{"thickness", thickM}); err != nil {
		return 0, err
	}
	if !(drawdownM >= 0 && drawdownM <= thickM) {
		return 0, &InputError{"drawdown", drawdownM, "0 to the wet thickness"}
	}
	return drawdownM * (1 - drawdownM/thickM/2), nil
}

// WaterTableDrawdown returns the drawdown of a water table from that of ground of
// unchanging thickness: [JacobCorrected] turned round,
//
//	s = b (1 - √(1 - 2s′/b)).
//
// A well can take no more than s′ = b/2: there it is empty.
//
//   - Units: metres.
//   - Domain: 0 <= s′ <= b/2.
//   - Errors: [InputError]; [ErrDry] beyond b/2: the ground cannot give the discharge.
//   - Source: Jacob (1944), from memory.
//   - Checked by: TestJacobCorrection.
func WaterTableDrawdown(correctedM, thickM float64) (float64, error) {
	if err := positive(named{"thickness", thickM}); err != nil {
		return 0, err
	}
	if !(correctedM >= 0) || math.IsInf(correctedM, 0) {
		return 0, &InputError{"drawdown", correctedM, "a finite number not below 0"}
	}
	if correctedM > thickM/2 {
		return 0, ErrDry
	}
	return thickM * (1 - math.Sqrt(1-2*correctedM/thickM)), nil
}

// Usable returns the drawdown in ground of unchanging thickness that gives as much as
// drawing a screened layer down to leftM of water above its base,
//
//	s′ = d + (L² - h²)/(2L),
//
// with d the depth of the layer's top below the water at rest, L its thickness, h = leftM.
// For a layer that begins at the water table, d = 0, it is Jacob's correction.
//
//   - Units: metres. coverM is d, 0 where the water table stands within the layer; lengthM
//     is L, or the wet part of the layer.
//   - Domain: coverM >= 0, lengthM > 0, 0 <= leftM <= lengthM + coverM; a water level above
//     the layer's top leaves it full and s′ = d + L - h.
//   - Errors: [InputError], [ErrNoAnswer] where the numbers leave the range of a float.
//   - Source: Girinskii's potential of a layer part confined, part not; from memory of
//     Strack (1989), Groundwater Mechanics.
//   - Checked by: TestUsableDrawdown.
func Usable(coverM, lengthM, leftM float64) (float64, error) {
	if err := positive(named{"length", lengthM}); err != nil {
		return 0, err
	}
	if !(coverM >= 0) || math.IsInf(coverM, 0) {
		return 0, &InputError{"cover", coverM, "a finite number not below 0"}
	}
	if !(leftM >= 0 && leftM <= lengthM+coverM) {
		return 0, &InputError{"water left", leftM, "0 to the height of the water at rest"}
	}
	if leftM >= lengthM {
		return finite(coverM + lengthM - leftM)
	}
	return finite(coverM + (lengthM+leftM)/2*(1-leftM/lengthM))
}
