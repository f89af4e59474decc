package book

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"

	"drillbay/drills"
	"drillbay/drills/clinic"
	"drillbay/drills/ledger"
)

// clinicKey is the name of the clinic among the ledger's settings. Names are
// not in it: they are the players' own, and go when a player is deleted.
const clinicKey = "clinic"

// BeginClinic begins a clinic with a pasted list of names; players who are
// known already are those. The camera is at the first of the stations. Doubles
// are names that stood there twice.
func (b *Book) BeginClinic(ctx context.Context, list string, stations []string, rule clinic.Rule) (doubles []string, err error) {
	b.changes.Lock()
	defer b.changes.Unlock()
	entries, doubles := clinic.Parse(list)
	if len(entries) == 0 {
		return nil, fmt.Errorf("there is no name in the list: one a line, or with commas between")
	}
	now := b.now()
	c, err := clinic.At(stations, rule, now)
	if err != nil {
		return nil, err
	}
	if err := b.meet(ctx, entries); err != nil {
		return nil, err
	}
	if err := b.join(&c, entries, now); err != nil {
		return nil, err
	}
	c.Fill(now)
	return doubles, b.keepGroup(ctx, c)
}

// JoinClinic lets players come late, by a pasted list.
func (b *Book) JoinClinic(ctx context.Context, list string) error {
	b.changes.Lock()
	defer b.changes.Unlock()
	entries, _ := clinic.Parse(list)
	if _, going := b.Group(); going {
		if err := b.meet(ctx, entries); err != nil {
			return err
		}
	}
	return b.changeClinic(ctx, func(c *clinic.Clinic, now time.Time) error { return b.join(c, entries, now) })
}

// meet stores those of a list who are not known, all in one write.
func (b *Book) meet(ctx context.Context, entries []clinic.Entry) error {
	b.mu.Lock()
	var fresh []ledger.Player
	for _, e := range entries {
		if slices.ContainsFunc(b.players, func(p ledger.Player) bool { return strings.EqualFold(p.Name, e.Name) }) {
			continue
		}
		if err := b.wasDeleted(e.Name); err != nil {
			b.mu.Unlock()
			return err
		}
		fresh = append(fresh, ledger.Player{ID: uuid.NewString(), Name: e.Name, Hand: e.Hand})
	}
	b.mu.Unlock()
	if len(fresh) == 0 {
		return nil
	}
	if err := b.ledger.PutPlayers(ctx, fresh); err != nil {
		return err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	b.players = append(b.players[:len(b.players):len(b.players)], fresh...)
	b.list = nil
	return nil
}

// join puts players who are known on the roster; one who is on it already is
// there again.
func (b *Book) join(c *clinic.Clinic, entries []clinic.Entry, now time.Time) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, e := range entries {
		i := slices.IndexFunc(b.players, func(p ledger.Player) bool { return strings.EqualFold(p.Name, e.Name) })
		if i < 0 {
			return fmt.Errorf("%s is not in the ledger any more", e.Name)
		}
		p := b.players[i]
		if n := slices.IndexFunc(c.Players, func(o clinic.Player) bool { return o.ID == p.ID }); n >= 0 {
			if err := c.Arrive(n+1, now); err != nil {
				return err
			}
			continue
		}
		n := c.Add(clinic.Player{ID: p.ID, Name: p.Name, Hand: p.Hand, Present: true}, now)
		if err := b.placeInGroup(c, n); err != nil {
			return err
		}
	}
	return nil
}

// placeInGroup puts a player of the clinic on the rung that is theirs.
func (b *Book) placeInGroup(c *clinic.Clinic, n int) error {
	d := b.ladder.Rungs[b.view(c.Players[n-1].ID).Standing.Here]
	return c.Place(n, d.Rung, d.ID)
}

// ChangeClinic changes the clinic that is going on and stores it.
func (b *Book) ChangeClinic(ctx context.Context, change func(*clinic.Clinic, time.Time) error) error {
	b.changes.Lock()
	defer b.changes.Unlock()
	return b.changeClinic(ctx, change)
}

// changeClinic is ChangeClinic for one who makes a change already.
func (b *Book) changeClinic(ctx context.Context, change func(*clinic.Clinic, time.Time) error) error {
	c, going := b.Group()
	if !going {
		return fmt.Errorf("there is no clinic: begin one with a list of names")
	}
	c = copied(c)
	now := b.now()
	if err := change(&c, now); err != nil {
		return err
	}
	c.Fill(now)
	return b.keepGroup(ctx, c)
}

// copied returns a copy of the clinic that can be changed without changing the one that is
// shown.
func copied(c clinic.Clinic) clinic.Clinic {
	c.Players, c.Stations = slices.Clone(c.Players), slices.Clone(c.Stations)
	for i := range c.Players {
		c.Players[i].Beside = slices.Clone(c.Players[i].Beside)
	}
	return c
}

// EndClinic ends it; the reps stay in the ledger.
func (b *Book) EndClinic(ctx context.Context) error {
	b.changes.Lock()
	defer b.changes.Unlock()
	if err := b.ledger.PutSetting(ctx, clinicKey, ""); err != nil {
		return err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	b.group = nil
	return nil
}

// Group is the clinic that is going on.
func (b *Book) Group() (c clinic.Clinic, ok bool) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.group == nil {
		return clinic.Clinic{}, false
	}
	return *b.group, true
}

// keepGroup stores a clinic in one write, then shows it.
func (b *Book) keepGroup(ctx context.Context, c clinic.Clinic) error {
	nameless := c
	nameless.Players = slices.Clone(c.Players)
	for i := range nameless.Players {
		nameless.Players[i].Name = ""
	}
	text, err := json.Marshal(nameless)
	if err != nil {
		return err
	}
	if err := b.ledger.PutSetting(ctx, clinicKey, string(text)); err != nil {
		return err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	// Reps may have come while it was written.
	return b.showGroup(c)
}

// showGroup has a clinic be the one that goes on, with the reps that are known
// now.
func (b *Book) showGroup(c clinic.Clinic) error {
	for i, p := range c.Players {
		w := b.worked[p.ID]
		w.reps = nil
		b.worked[p.ID] = w
		if p.Name == deletedName {
			continue
		}
		if err := b.placeInGroup(&c, i+1); err != nil {
			return err
		}
		if err := b.recount(&c, i+1); err != nil {
			return err
		}
	}
	b.group = &c
	return nil
}

// readGroup goes on with a clinic that was left going.
func (b *Book) readGroup(ctx context.Context) error {
	text, err := b.ledger.Setting(ctx, clinicKey)
	if err != nil || text == "" {
		return err
	}
	var c clinic.Clinic
	if err := json.Unmarshal([]byte(text), &c); err != nil {
		return fmt.Errorf("the clinic that was going on cannot be read, begin it again: %w", err)
	}
	now := b.now()
	for i := range c.Players {
		if at := b.find(c.Players[i].ID); at >= 0 {
			c.Players[i].Name = b.players[at].Name
			continue
		}
		c.Players[i].Name = deletedName
		if err := c.Leave(i+1, now); err != nil {
			return err
		}
	}
	return b.showGroup(c)
}

// noteInGroup counts the reps of the player of a rep anew, also one that came
// late or was taken back. Nothing of it is stored: the ledger has the reps.
func (b *Book) noteInGroup(r ledger.Record) {
	if b.group == nil {
		return
	}
	n := slices.IndexFunc(b.group.Players, func(p clinic.Player) bool { return p.ID == r.Player.ID }) + 1
	if n == 0 {
		return
	}
	c := copied(*b.group)
	if b.placeInGroup(&c, n) == nil && b.recount(&c, n) == nil {
		b.group = &c
	}
}

// recount has the clinic count what the ledger holds of a player.
func (b *Book) recount(c *clinic.Clinic, n int) error {
	p := c.Players[n-1]
	var list []clinic.Made
	for _, r := range b.inClinic(c, p.ID) {
		list = append(list, clinic.Made{Here: r.Drill == p.Drill || r.Kind == drills.Mixed && p.Drill == b.mixedDrill(), Rep: r.Rep})
	}
	return c.Recount(n, list)
}

// inClinic are the reps of a player since a clinic began, none that was taken
// back.
func (b *Book) inClinic(c *clinic.Clinic, player string) (out []ledger.Record) {
	all := b.reps[player]
	for from := len(all); from > 0 && !all[from-1].At.Before(c.Began); from-- {
		if r := all[from-1]; !r.Taken {
			out = append(out, r)
		}
	}
	slices.Reverse(out)
	return out
}

// Clinic describes the group that practises; ok is false without one. The player who is
// up stands before the camera.
func (b *Book) Clinic() (ClinicSheet, bool) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.group == nil {
		return ClinicSheet{}, false
	}
	c := b.group
	sheet := ClinicSheet{Group: c.Began.Local().Format("Clinic of 2 January"), Reps: c.Rule.Reps}
	if n := c.Stations[0].Up; n > 0 {
		p := c.Players[n-1]
		sheet.Up, sheet.UpID, sheet.UpLine = p.Name, p.ID, fmt.Sprintf("Rung %d", p.Rung)
		sheet.Over = c.Over(0, b.now())
		sheet.UpReps = drills.Count(c.Stations[0].Reps, "rep")
		if c.Rule.Reps > 0 {
			sheet.UpReps = fmt.Sprintf("%d of %s", c.Stations[0].Reps, drills.Count(c.Rule.Reps, "rep"))
		}
	}
	if n := c.Coming(b.now()); n > 0 {
		sheet.Then = c.Players[n-1].Name
	}
	for i, s := range c.Stations {
		if len(c.Stations) == 1 {
			break
		}
		line := StationLine{Name: s.Name, Camera: !s.Beside}
		if line.Name == "" {
			line.Name = strconv.Itoa(i + 1)
		}
		if s.Up > 0 {
			line.Who = c.Players[s.Up-1].Name
		}
		sheet.Stations = append(sheet.Stations, line)
	}
	for _, l := range c.Sheet(b.now()) {
		sheet.Players = append(sheet.Players, b.clinicLine(c, l))
	}
	return sheet, true
}

// shownReps is the number of a player's reps that the coach sees at once.
const shownReps = 10

func (b *Book) clinicLine(c *clinic.Clinic, l clinic.Line) ClinicLine {
	p := l.Player
	out := ClinicLine{Number: l.Number, Name: p.Name, Hand: p.Hand, Rung: p.Rung, Counted: p.Reps.Good, Of: p.Reps.Of, Up: l.Up > 0 && !c.Stations[l.Up-1].Beside, Needs: l.Stuck, Longest: l.Most}
	switch {
	case !p.Present && p.Arrived.IsZero():
		out.Waits = "late"
	case !p.Present:
		out.Waits = "left"
	case l.Up > 0 && c.Stations[l.Up-1].Beside:
		out.Waits = c.Stations[l.Up-1].Name
	case l.Next > 0:
		out.Waits = fmt.Sprintf("%.0f min", l.Waits.Minutes())
	}
	out.Reps = b.lastReps(c, p.ID)
	return out
}

// lastReps are the reps of a player that the coach sees.
func (b *Book) lastReps(c *clinic.Clinic, player string) []drills.Rep {
	w := b.worked[player]
	if w.reps == nil {
		all := b.inClinic(c, player)
		for _, r := range all[max(0, len(all)-shownReps):] {
			w.reps = append(w.reps, r.Rep)
		}
		b.worked[player] = w
	}
	return w.reps
}

// ClinicStep is a change of who is up in a clinic, or who is there.
type ClinicStep uint8

const (
	NextUp  ClinicStep = iota // who waits longest is up
	CallUp                    // a player is up out of turn
	Arrives                   // a player is there
	Leaves                    // a player is there no more
)

// ClinicDo changes who is up, or who is there. NextUp needs no player's number.
func (b *Book) ClinicDo(s ClinicStep, number int) error {
	return b.ChangeClinic(context.Background(), func(c *clinic.Clinic, now time.Time) error {
		switch s {
		case NextUp:
			_, err := c.MoveOn(now)
			return err
		case CallUp:
			return c.Jump(0, number, now)
		case Arrives:
			return c.Arrive(number, now)
		case Leaves:
			return c.Leave(number, now)
		}
		return nil
	})
}
