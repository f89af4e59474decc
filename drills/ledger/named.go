package ledger

import (
	"context"
	"fmt"
	"strings"
)

// NameError says why no player, or more than one, has a name.
type NameError struct{ say string }

func (e NameError) Error() string { return e.say }

// PlayerNamed is the player of a name: as it is written, else in large or small
// letters, else the one whose name begins so. The error is a NameError where there is
// no such player, or more than one.
func (l *Ledger) PlayerNamed(ctx context.Context, name string) (Player, error) {
	players, err := l.Players(ctx)
	if err != nil {
		return Player{}, err
	}
	plain := strings.TrimSpace(name)
	for _, is := range []func(string) bool{
		func(n string) bool { return n == name },
		func(n string) bool { return strings.EqualFold(n, plain) },
		func(n string) bool { return strings.HasPrefix(strings.ToLower(n), strings.ToLower(plain)) },
	} {
		var found []Player
		for _, p := range players {
			if is(p.Name) {
				found = append(found, p)
			}
		}
		switch {
		case len(found) > 1:
			return Player{}, NameError{fmt.Sprintf("%q is the name of more than one player: give it in full", name)}
		case len(found) == 1:
			return found[0], nil
		}
	}
	if len(players) == 0 {
		return Player{}, NameError{fmt.Sprintf("there is no player named %q: the ledger holds none yet", name)}
	}
	var names []string
	for _, p := range players {
		names = append(names, p.Name)
	}
	return Player{}, NameError{fmt.Sprintf("there is no player named %q in the ledger: it holds %s", name, strings.Join(names, ", "))}
}
