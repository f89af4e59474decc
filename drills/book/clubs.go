package book

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"drillbay/drills"
	"drillbay/drills/ledger"
)

// sameLength is the largest difference between two lengths of one club, m.
const sameLength = 0.005

// clubKey is the name of the setting that keeps which club a player chose.
func clubKey(player string) string { return "club of " + player }

// readClubs reads a player's clubs and which one was chosen.
func (b *Book) readClubs(ctx context.Context, player string) error {
	list, err := b.ledger.Clubs(ctx, player)
	if err != nil {
		return err
	}
	for _, c := range list {
		b.clubs[player] = append(b.clubs[player], drills.Club{Name: c.Name, Length: c.Length})
	}
	b.inHand[player], err = b.ledger.Setting(ctx, clubKey(player))
	return err
}

// inUse is the club that a player practises with: the one chosen, else that of
// the last rep, else the shortest; the zero club where none is known.
func (b *Book) inUse(player string) drills.Club {
	list := b.clubs[player]
	named := func(name string) int {
		return slices.IndexFunc(list, func(c drills.Club) bool { return name != "" && c.Name == name })
	}
	if i := named(b.inHand[player]); i >= 0 {
		return list[i]
	}
	if reps := b.reps[player]; len(reps) > 0 {
		if i := named(b.clubOf(reps[len(reps)-1])); i >= 0 {
			return list[i]
		}
	}
	if len(list) > 0 {
		return list[0]
	}
	return drills.Club{}
}

// standsWith names the club whose standing is told: the one chosen, else that
// of the last rep, which need not be in the list.
func (b *Book) standsWith(player string) string {
	used := b.inUse(player).Name
	if reps := b.counted(player); len(reps) > 0 && b.inHand[player] != used {
		return b.clubOf(reps[len(reps)-1])
	}
	return used
}

// clubOf names a rep's club: verdicts are kept per club. One that was stored
// without a name is found by its length.
func (b *Book) clubOf(r ledger.Record) string {
	switch {
	case r.Club != "":
		return r.Club
	case r.ClubLong > 0:
		if name := b.named(r.Player.ID, r.ClubLong); name != "" {
			return name
		}
		return fmt.Sprintf("%.0f cm", r.ClubLong*100)
	}
	return ""
}

// named is the name of a player's club of a length, m; "" when there is none.
func (b *Book) named(player string, length float64) string {
	for _, c := range b.clubs[player] {
		if math.Abs(c.Length-length) < sameLength {
			return c.Name
		}
	}
	return ""
}

// ClubOf is the length of the club that a player practises with, m; 0 when not
// known.
func (b *Book) ClubOf(player string) float64 {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.inUse(player).Length
}

// ClubNamed is the name of a player's club of a length, m; "" when it is in no
// list.
func (b *Book) ClubNamed(player string, length float64) string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.named(player, length)
}

// Clubs are a player's, the shortest first.
func (b *Book) Clubs(player string) []ClubLine {
	b.mu.Lock()
	defer b.mu.Unlock()
	if w := b.worked[player]; w.clubs != nil {
		return w.clubs
	}
	sets, used := b.setsOf(player), b.inUse(player)
	var out []ClubLine
	for _, c := range b.clubs[player] {
		s := b.ladder.Stand(sets, c.Name)
		line := ClubLine{Name: c.Name, Cm: c.Length * 100, Used: c == used, Line: "no set yet"}
		if slices.ContainsFunc(sets, func(x drills.Set) bool { return x.Club == c.Name }) {
			here := b.ladder.Rungs[s.Here]
			line.Line = fmt.Sprintf("rung %d of %d", here.Rung, len(b.ladder.Rungs))
			if last := s.Rungs[s.Here].Last; last.Of > 0 {
				line.Line += ", " + b.inLastSet(last, here.ID)
			}
		}
		if next, _, ok := b.ladder.Offer(sets, b.clubs[player], b.standsWith(player)); ok {
			line.Offered = next == c
		}
		out = append(out, line)
	}
	w := b.worked[player]
	w.clubs = out
	b.worked[player] = w
	return out
}

// AddClub adds a club to a player's list.
func (b *Book) AddClub(player, name string, cm float64) error {
	b.changes.Lock()
	defer b.changes.Unlock()
	if name = strings.Join(strings.Fields(name), " "); name == "" {
		name = fmt.Sprintf("%.0f cm", cm)
	}
	b.mu.Lock()
	list := slices.Clone(b.clubs[player])
	b.mu.Unlock()
	for _, c := range list {
		switch {
		case strings.EqualFold(c.Name, name):
			return fmt.Errorf("%s is on the list already", c.Name)
		case math.Abs(c.Length-cm/100) < sameLength:
			return fmt.Errorf("%s is just as long: give this one another length, clubs are told apart by it", c.Name)
		}
	}
	if _, err := b.ledger.PutClub(context.Background(), ledger.Club{Player: player, Name: name, Length: cm / 100}); err != nil {
		return err
	}
	list = append(list, drills.Club{Name: name, Length: cm / 100})
	slices.SortStableFunc(list, func(x, y drills.Club) int { return cmp.Compare(x.Length, y.Length) })
	b.mu.Lock()
	defer b.mu.Unlock()
	b.clubs[player] = list
	b.changed(player)
	return nil
}

// UseClub chooses the club that the next sets are practised with.
func (b *Book) UseClub(player, name string) error {
	b.changes.Lock()
	defer b.changes.Unlock()
	b.mu.Lock()
	known := slices.ContainsFunc(b.clubs[player], func(c drills.Club) bool { return c.Name == name })
	b.mu.Unlock()
	if !known {
		return fmt.Errorf("%s is not on this player's list", name)
	}
	if err := b.ledger.PutSetting(context.Background(), clubKey(player), name); err != nil {
		return err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	b.inHand[player] = name
	b.changed(player)
	return nil
}

// offer is the sentence that offers the next longer club, "" for none.
func (b *Book) offer(player string) string {
	_, why, ok := b.ladder.Offer(b.setsOf(player), b.clubs[player], b.standsWith(player))
	if !ok {
		return ""
	}
	return why + " Take it with U."
}
