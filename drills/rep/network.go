package rep

import "math"

//go:generate go run ./learn -out weights.go

// Network judges by a passage's features whether a club was placed: a perceptron with
// one hidden layer, and a linear part beside it. Features are standardised first.
type Network struct {
	Mean, Spread [Features]float64
	Hidden       [units][Features + 1]float64 // the last is the bias
	Out          [units + 1]float64           // the last is the bias
	Linear       [Features]float64
}

// units is how many hidden units the network has.
const units = 12

// LogOdds is ln p/(1−p) of the chance p that the club was placed.
func (n *Network) LogOdds(f *[Features]float64) float64 {
	_, _, sum := n.Run(f)
	return sum
}

// Run is the forward pass: the standardised features, what the hidden units make of them,
// and the log odds.
func (n *Network) Run(f *[Features]float64) (z [Features]float64, hidden [units]float64, odds float64) {
	for i, x := range f {
		z[i] = max(-farthest, min(farthest, (x-n.Mean[i])/n.Spread[i]))
	}
	odds = n.Out[units]
	for h := range n.Hidden {
		w := &n.Hidden[h]
		a := w[Features]
		for i, x := range z {
			a += w[i] * x
		}
		hidden[h] = math.Tanh(a)
		odds += n.Out[h] * hidden[h]
	}
	for i, x := range z {
		odds += n.Linear[i] * x
	}
	return z, hidden, odds
}
