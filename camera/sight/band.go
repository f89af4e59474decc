package sight

import "math"

const (
	blockSize = 5               // numbers of a node: hands x, y, z and two turns of the shaft
	bandWidth = 3*blockSize - 1 // a node is tied to the two before it
	borders   = 7               // numbers that all nodes share
	rowSize   = 3*blockSize + borders
)

// row is one line of the least-squares problem: how a residual, in its own
// sigmas, moves with the unknowns. Columns from the system's n on are shared.
type row struct {
	n   int
	col [rowSize]int
	val [rowSize]float64
}

func (r *row) put(col int, val float64) {
	if val == 0 {
		return
	}
	r.col[r.n], r.val[r.n] = col, val
	r.n++
}

// system is the normal equations of the fit: the nodes' part is banded, and
// borders columns are shared by all. Golub & Van Loan, Matrix Computations,
// 4th ed., §4.3.5 (band Cholesky) and §3.2.11 (block elimination).
type system struct {
	n     int
	band  []float64 // n rows of the lower band, the diagonal last
	side  []float64 // n × borders
	shut  [borders][borders]float64
	right []float64 // n + borders, minus the gradient

	solved []float64 // band⁻¹·side, by column
	inner  [borders][borders]float64
}

func newSystem(nodes int) *system {
	n := nodes * blockSize
	return &system{n: n, band: make([]float64, n*(bandWidth+1)), side: make([]float64, n*borders), right: make([]float64, n+borders), solved: make([]float64, n*borders)}
}

func (s *system) clear() {
	clear(s.band)
	clear(s.side)
	clear(s.right)
	s.shut = [borders][borders]float64{}
}

// add takes a residual into account, with a weight.
func (s *system) add(r *row, residual, weight float64) {
	for i, c := range r.col[:r.n] {
		w := weight * r.val[i]
		s.right[c] -= w * residual
		for j, d := range r.col[:r.n] {
			switch {
			case c >= s.n && d >= s.n:
				s.shut[c-s.n][d-s.n] += w * r.val[j]
			case c < s.n && d >= s.n:
				s.side[c*borders+d-s.n] += w * r.val[j]
			case c < s.n && d <= c:
				s.band[c*(bandWidth+1)+bandWidth-(c-d)] += w * r.val[j]
			}
		}
	}
}

// factor prepares solve. It reports false when the equations do not
// determine the unknowns.
func (s *system) factor() bool {
	const w = bandWidth + 1
	for i := range s.n {
		a := s.band[i*w : (i+1)*w]
		for j := max(0, i-bandWidth); j <= i; j++ {
			b := s.band[j*w : (j+1)*w]
			sum := a[bandWidth-(i-j)]
			for k := max(0, i-bandWidth, j-bandWidth); k < j; k++ {
				sum -= a[bandWidth-(i-k)] * b[bandWidth-(j-k)]
			}
			if j < i {
				a[bandWidth-(i-j)] = sum / b[bandWidth]
				continue
			}
			if !(sum > 0) {
				return false
			}
			a[bandWidth] = math.Sqrt(sum)
		}
	}
	for c := range borders {
		col := s.solved[c*s.n : (c+1)*s.n]
		for i := range col {
			col[i] = s.side[i*borders+c]
		}
		s.banded(col)
	}
	for a := range borders {
		for b := range borders {
			sum := s.shut[a][b]
			for i := range s.n {
				sum -= s.side[i*borders+a] * s.solved[b*s.n+i]
			}
			s.inner[a][b] = sum
		}
	}
	return lower(&s.inner)
}

// banded solves for the nodes alone, in place.
func (s *system) banded(x []float64) {
	const w = bandWidth + 1
	for i := range s.n {
		a := s.band[i*w : (i+1)*w]
		sum := x[i]
		for k := max(0, i-bandWidth); k < i; k++ {
			sum -= a[bandWidth-(i-k)] * x[k]
		}
		x[i] = sum / a[bandWidth]
	}
	for i := s.n - 1; i >= 0; i-- {
		x[i] /= s.band[i*w+bandWidth]
		for k := max(0, i-bandWidth); k < i; k++ {
			x[k] -= s.band[i*w+bandWidth-(i-k)] * x[i]
		}
	}
}

// solve solves for all unknowns, in place: the step when x is right, a column
// of the covariance when x is a unit vector.
func (s *system) solve(x []float64) {
	var y [borders]float64
	for a := range y {
		y[a] = x[s.n+a]
		for i := range s.n {
			y[a] -= s.solved[a*s.n+i] * x[i]
		}
	}
	s.banded(x[:s.n])
	back(&s.inner, &y)
	for a, v := range y {
		x[s.n+a] = v
		for i := range s.n {
			x[i] -= v * s.solved[a*s.n+i]
		}
	}
}

// lower makes the Cholesky factor of a small matrix in its lower half.
func lower(m *[borders][borders]float64) bool {
	for i := range m {
		for j := 0; j <= i; j++ {
			sum := m[i][j]
			for k := range j {
				sum -= m[i][k] * m[j][k]
			}
			if j < i {
				m[i][j] = sum / m[j][j]
			} else if !(sum > 0) {
				return false
			} else {
				m[i][i] = math.Sqrt(sum)
			}
		}
	}
	return true
}

// back solves with the factor of lower, in place.
func back(m *[borders][borders]float64, x *[borders]float64) {
	for i := range x {
		for k := range i {
			x[i] -= m[i][k] * x[k]
		}
		x[i] /= m[i][i]
	}
	for i := borders - 1; i >= 0; i-- {
		x[i] /= m[i][i]
		for k := range i {
			x[k] -= m[i][k] * x[i]
		}
	}
}
