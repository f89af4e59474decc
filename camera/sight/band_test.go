package sight

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

// The bordered banded solution is that of the same equations in full, solved
// by gonum.
func TestBandedEquationsAreSolvedAsInFull(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	const nodes = 9
	s := newSystem(nodes)
	size := s.n + borders
	full := mat.NewSymDense(size, nil)
	right := mat.NewVecDense(size, nil)
	for range 800 {
		var q row
		first := r.IntN(nodes-2) * blockSize
		for _, c := range r.Perm(3 * blockSize)[:6] {
			q.put(first+c, r.NormFloat64())
		}
		q.put(s.n+r.IntN(borders), r.NormFloat64())
		residual, weight := r.NormFloat64(), r.Float64()
		s.add(&q, residual, weight)
		for i := range q.n {
			right.SetVec(q.col[i], right.AtVec(q.col[i])-weight*residual*q.val[i])
			for j := range q.n {
				if q.col[j] <= q.col[i] {
					full.SetSym(q.col[i], q.col[j], full.At(q.col[i], q.col[j])+weight*q.val[i]*q.val[j])
				}
			}
		}
	}
	var c mat.Cholesky
	require.True(t, c.Factorize(full))
	var want mat.VecDense
	require.NoError(t, c.SolveVecTo(&want, right))
	require.True(t, s.factor())
	got := append([]float64(nil), s.right...)
	s.solve(got)
	for i, v := range got {
		assert.InDelta(t, want.AtVec(i), v, 1e-8)
	}
	var inverse mat.SymDense
	require.NoError(t, c.InverseTo(&inverse))
	for _, i := range []int{0, 17, s.n - 1, s.n, size - 1} {
		unit := make([]float64, size)
		unit[i] = 1
		s.solve(unit)
		assert.InDelta(t, inverse.At(i, i), unit[i], 1e-8, "covariance of %d", i)
	}
	empty := newSystem(2)
	assert.False(t, empty.factor(), "nothing is known")
}
