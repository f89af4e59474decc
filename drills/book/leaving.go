package book

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"drillbay/drills/clinic"
	"drillbay/drills/ledger"
	"drillbay/drills/runner"
)

// Consent notes who agreed that clips of a player are kept.
func (b *Book) Consent(player string, c Consent) error {
	b.changes.Lock()
	defer b.changes.Unlock()
	b.mu.Lock()
	i := b.find(player)
	if i < 0 {
		b.mu.Unlock()
		return errors.New("this player is not in the ledger")
	}
	p := b.players[i]
	b.mu.Unlock()
	p.Consent, p.ConsentAt = "", time.Time{}
	switch c {
	case PlayerAgrees:
		p.Consent, p.ConsentAt, p.Minor = ledger.ByPlayer, b.now(), false
	case GuardianAgrees:
		p.Consent, p.ConsentAt, p.Minor = ledger.ByGuardian, b.now(), true
	}
	if _, err := b.ledger.PutPlayer(context.Background(), p); err != nil {
		return err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	if i = b.find(player); i >= 0 {
		b.players = slices.Clone(b.players)
		b.players[i] = p
	}
	b.changed(player)
	return nil
}

// Delete hides a player and says what is to go: all that is theirs goes from the disk when
// the session ends, and Undelete brings it back until then. Reps and pictures of other
// players stay.
func (b *Book) Delete(ctx context.Context, player string) (string, error) {
	b.changes.Lock()
	defer b.changes.Unlock()
	gone, err := b.ledger.Leave(ctx, player)
	if err != nil {
		return "", err
	}
	b.mu.Lock()
	if i := b.find(player); i >= 0 {
		b.leaving = append(b.leaving, b.players[i])
		b.players = append(append([]ledger.Player{}, b.players[:i]...), b.players[i+1:]...)
	}
	b.changed(player)
	group := b.group != nil
	b.mu.Unlock()
	if group {
		err = b.changeClinic(ctx, func(c *clinic.Clinic, now time.Time) error {
			for i := range c.Players {
				if c.Players[i].ID == player {
					c.Players[i].Name = deletedName
					return c.Leave(i+1, now)
				}
			}
			return nil
		})
	}
	return gone.String(), err
}

// Undelete brings back a player who was deleted in this session.
func (b *Book) Undelete(ctx context.Context, player string) (string, error) {
	b.changes.Lock()
	defer b.changes.Unlock()
	if err := b.ledger.Stay(ctx, player); err != nil {
		return "", err
	}
	b.mu.Lock()
	i := slices.IndexFunc(b.leaving, func(p ledger.Player) bool { return p.ID == player })
	if i < 0 {
		b.mu.Unlock()
		return "", errors.New("this player was not deleted in this session")
	}
	p := b.leaving[i]
	b.leaving = slices.Delete(slices.Clone(b.leaving), i, i+1)
	b.players = append([]ledger.Player{p}, b.players...)
	b.changed(player)
	group := b.group != nil
	b.mu.Unlock()
	var err error
	if group {
		err = b.changeClinic(ctx, func(c *clinic.Clinic, _ time.Time) error {
			for i := range c.Players {
				if c.Players[i].ID == player {
					c.Players[i].Name = p.Name
				}
			}
			return nil
		})
	}
	return p.Name + " is back, with all that was kept.", err
}

// Deleted are the players who were deleted in this session, in that order. They can
// be brought back until it ends.
func (b *Book) Deleted() []PlayerLine {
	b.mu.Lock()
	defer b.mu.Unlock()
	out := make([]PlayerLine, len(b.leaving))
	for i, p := range b.leaving {
		out[i] = PlayerLine{Player: runner.Player{ID: p.ID, Name: p.Name, Hand: p.Hand}}
	}
	return out
}

// wasDeleted says that a name is that of a player who was deleted a moment ago.
func (b *Book) wasDeleted(name string) error {
	if slices.ContainsFunc(b.leaving, func(p ledger.Player) bool { return strings.EqualFold(p.Name, name) }) {
		return fmt.Errorf("%s was deleted in this session: bring %[1]s back on the progress screen, with Z, or add an initial", name)
	}
	return nil
}

// deletedName stands where a clinic had a player who was deleted.
const deletedName = "deleted"

// consentOf is a player's, and since when.
func consentOf(p ledger.Player) (c Consent, at string) {
	if p.Consent == "" {
		return NoConsent, ""
	}
	c = PlayerAgrees
	if p.Minor || p.Consent == ledger.ByGuardian {
		c = GuardianAgrees
	}
	at = "agreed: " + p.Consent
	if !p.ConsentAt.IsZero() {
		at += p.ConsentAt.Local().Format(", 2 January 2006")
	}
	return c, at
}
