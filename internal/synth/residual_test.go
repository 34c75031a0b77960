package synth

// residual holds the standardized departures of maximum temperature, minimum
// temperature and solar radiation from their seasonal means. Radiation is
// carried along, unused, so that the published matrices stay whole.
type residual [3]float64

// residualA and residualB are the matrices A and B of Richardson and Wright
// (1984), ARS-8, which Richardson (1981) derived for the United States:
// x(t) = A x(t-1) + B e(t), with e independent standard normal deviates.
var (
	residualA = [3][3]float64{
		{0.567, 0.086, -0.002},
		{0.253, 0.504, -0.050},
		{-0.006, -0.039, 0.244},
	}
	residualB = [3][3]float64{
		{0.781, 0, 0},
		{0.328, 0.637, 0},
		{0.238, -0.341, 0.873},
	}
)

// next returns the residual of the following day.
func (x residual) next(e residual) residual {
	var y residual
	for i := range y {
		for j := range y {
			y[i] += residualA[i][j]*x[j] + residualB[i][j]*e[j]
		}
	}
	return y
}
