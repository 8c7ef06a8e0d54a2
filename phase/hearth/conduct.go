package hearth

import "math"

// Temperature returns that at a depth (mm) behind a face that was brought to
// faceTC and kept there, in a wall that began at groundTC and has no other
// side: T = T0 + (Tf − T0)·erfc(x/reach) with reach = 2√(diffusivity·time)
// (Carslaw & Jaeger 1959, Conduction of Heat in Solids, 2.4).
func Temperature(depth, reach, faceTC, groundTC float64) float64 {
	return groundTC + (faceTC-groundTC)*math.Erfc(depth/reach)
}

// Depth is the inverse: the depth in mm that reached a temperature; 0 where
// the face did not.
func Depth(tc, reach, faceTC, groundTC float64) float64 {
	share := (tc - groundTC) / (faceTC - groundTC)
	if !(share < 1) {
		return 0
	}
	if share <= 0 {
		return math.Inf(1)
	}
	return reach * math.Erfcinv(share)
}

// Hours returns how long a face was hot for a reach (mm), by a diffusivity in
// mm²/s.
func Hours(reach, diffusivity float64) float64 { return reach * reach / 4 / diffusivity / 3600 }
