package live

// fault is something that goes wrong.
type fault struct{}

func (p plan) break_(*Config) (stop func(), err error) { return func() {}, nil }

func (p plan) extra() float64 { return 0 }
