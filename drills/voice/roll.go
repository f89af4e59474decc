package voice

import (
	"sync"

	"drillbay/drills/runner"
)

// NameCaller calls somebody by name.
type NameCaller interface {
	// Prepare has names ready to be called.
	Prepare(names ...string)
	// Call calls a name, or a player's number where the name cannot be spoken.
	Call(name string, number int)
}

// Roll has a player's name spoken by the system's speech program when another
// player begins, "player three" where there is none. A name is prepared as soon as
// it is known, and called once the cautions were seen.
type Roll struct {
	out    NameCaller // nil: nobody is called
	number func(id string) int
	then   func() (name string, group bool)

	mu     sync.Mutex
	next   runner.Player // who practises, or is about to
	called bool          // by name
	warned bool          // the group that practises heard the cautions
	quiet  bool          // no words
}

// NewRoll calls players by out, nil for nobody. number is a player's, then who of a
// group comes next.
func NewRoll(out NameCaller, number func(id string) int, then func() (name string, group bool)) *Roll {
	return &Roll{out: out, number: number, then: then}
}

// Mute ends all calls, or allows them again.
func (r *Roll) Mute(on bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.quiet = on
}

// Quiet reports whether nobody is called.
func (r *Roll) Quiet() bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.quiet
}

// Order takes note of a command to the session.
func (r *Roll) Order(c runner.Command) {
	if r.out == nil {
		return
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	switch {
	case c.Do == runner.Begin && c.Player.ID != r.next.ID:
		r.next, r.called = c.Player, false
		r.out.Prepare(c.Player.Name)
		if then, group := r.then(); group {
			r.out.Prepare(then) // who is called next
		} else {
			r.warned = false
		}
	case c.Do == runner.Finish:
		r.warned = false
	case c.Do == runner.Ready && !r.called && !r.quiet:
		r.warned = true
		r.called = true
		r.out.Call(r.next.Name, r.number(r.next.ID))
	}
}

// Greet calls the next player of a group that heard the cautions, before the set-up
// is looked at; known is false where the cautions come first.
func (r *Roll) Greet(p runner.Player) (known bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.out == nil || !r.warned || r.quiet || p.ID != r.next.ID {
		return false
	}
	r.called = true
	r.out.Call(p.Name, r.number(p.ID))
	return true
}
