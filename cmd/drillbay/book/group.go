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

	"drillbay/app"
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
	b.mu.Lock()
	defer b.mu.Unlock()
	entries, doubles := clinic.Parse(list)
	if len(entries) == 0 {
		return nil, fmt.Errorf("there is no name in the list: one a line, or with commas between")
	}
	now := b.now()
	c, err := clinic.At(stations, rule, now)
	if err != nil {
		return nil, err
	}
	for _, e := range entries {
		if err := b.join(ctx, &c, e, now); err != nil {
			return nil, err
		}
	}
	c.Fill(now)
	return doubles, b.keepGroup(ctx, c)
}

// JoinClinic lets players come late, by a pasted list.
func (b *Book) JoinClinic(ctx context.Context, list string) error {
	return b.ChangeClinic(ctx, func(c *clinic.Clinic, now time.Time) error {
		entries, _ := clinic.Parse(list)
		for _, e := range entries {
			if err := b.join(ctx, c, e, now); err != nil {
				return err
			}
		}
		return nil
	})
}

// join adds a player, known or new; one who is on the roster already is there
// again.
func (b *Book) join(ctx context.Context, c *clinic.Clinic, e clinic.Entry, now time.Time) error {
	i := slices.IndexFunc(b.players, func(p ledger.Player) bool { return strings.EqualFold(p.Name, e.Name) })
	if i < 0 {
		if err := b.wasDeleted(e.Name); err != nil {
			return err
		}
		p := ledger.Player{ID: uuid.NewString(), Name: e.Name, Hand: e.Hand}
		if _, err := b.ledger.PutPlayer(ctx, p); err != nil {
			return err
		}
		b.players = append(b.players, p)
		i = len(b.players) - 1
	}
	p := b.players[i]
	if n := slices.IndexFunc(c.Players, func(o clinic.Player) bool { return o.ID == p.ID }); n >= 0 {
		return c.Arrive(n+1, now)
	}
	n := c.Add(clinic.Player{ID: p.ID, Name: p.Name, Hand: p.Hand, Present: true}, now)
	return b.placeInGroup(c, n)
}

// placeInGroup puts a player of the clinic on the rung that is theirs.
func (b *Book) placeInGroup(c *clinic.Clinic, n int) error {
	d := b.ladder.Rungs[b.view(c.Players[n-1].ID).Standing.Here]
	return c.Place(n, d.Rung, d.ID)
}

// ChangeClinic changes the clinic that is going on and stores it.
func (b *Book) ChangeClinic(ctx context.Context, change func(*clinic.Clinic, time.Time) error) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.changeClinic(ctx, change)
}

func (b *Book) changeClinic(ctx context.Context, change func(*clinic.Clinic, time.Time) error) error {
	if b.group == nil {
		return fmt.Errorf("there is no clinic: begin one with a list of names")
	}
	c := *b.group
	c.Players, c.Stations = slices.Clone(c.Players), slices.Clone(c.Stations)
	for i := range c.Players {
		c.Players[i].Beside = slices.Clone(c.Players[i].Beside)
	}
	now := b.now()
	if err := change(&c, now); err != nil {
		return err
	}
	c.Fill(now)
	return b.keepGroup(ctx, c)
}

// EndClinic ends it; the reps stay in the ledger.
func (b *Book) EndClinic(ctx context.Context) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.group = nil
	return b.ledger.PutSetting(ctx, clinicKey, "")
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
	for i := range c.Players {
		if err := b.recount(&c, i+1); err != nil {
			return err
		}
	}
	b.group = &c
	return nil
}

// noteInGroup counts the reps of the player of a rep anew, also one that came
// late or was taken back. What cannot be noted there is in the ledger all the
// same.
func (b *Book) noteInGroup(r ledger.Record) {
	if b.group == nil {
		return
	}
	n := slices.IndexFunc(b.group.Players, func(p clinic.Player) bool { return p.ID == r.Player.ID }) + 1
	if n == 0 {
		return
	}
	_ = b.changeClinic(context.Background(), func(c *clinic.Clinic, now time.Time) error {
		if err := b.placeInGroup(c, n); err != nil {
			return err
		}
		return b.recount(c, n)
	})
}

// recount has the clinic count what the ledger holds of a player.
func (b *Book) recount(c *clinic.Clinic, n int) error {
	p := c.Players[n-1]
	var list []clinic.Made
	for _, r := range b.inClinic(c, p.ID) {
		list = append(list, clinic.Made{At: r.At, Here: r.Drill == p.Drill || r.Kind == drills.Mixed && p.Drill == b.mixedDrill(), Rep: r.Rep})
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

// Clinic implements app.Book: who is up is who is before the camera.
func (b *Book) Clinic() (app.ClinicSheet, bool) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.group == nil {
		return app.ClinicSheet{}, false
	}
	c := b.group
	sheet := app.ClinicSheet{Group: c.Began.Local().Format("Clinic of 2 January"), Reps: c.Rule.Reps}
	if n := c.Stations[0].Up; n > 0 {
		p := c.Players[n-1]
		sheet.Up, sheet.UpID, sheet.UpLine = p.Name, p.ID, fmt.Sprintf("Rung %d", p.Rung)
		sheet.Over = c.Over(0, b.now())
		if left := c.Rule.Reps - c.Stations[0].Reps; c.Rule.Reps > 0 {
			sheet.UpReps = plural(max(left, 0), "rep")
		} else {
			sheet.UpReps = plural(c.Stations[0].Reps, "rep")
		}
	}
	if n := c.Coming(b.now()); n > 0 {
		sheet.Then = c.Players[n-1].Name
	}
	for i, s := range c.Stations {
		if len(c.Stations) == 1 {
			break
		}
		line := app.StationLine{Name: s.Name, Camera: !s.Beside}
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

// shownReps are how many of a player's reps the coach sees at once.
const shownReps = 10

func (b *Book) clinicLine(c *clinic.Clinic, l clinic.Line) app.ClinicLine {
	p := l.Player
	out := app.ClinicLine{Number: l.Number, Name: p.Name, Hand: p.Hand, Rung: p.Rung, Counted: p.Reps.Good, Of: p.Reps.Of, Up: l.Up > 0 && !c.Stations[l.Up-1].Beside, Needs: l.Stuck, Longest: l.Most}
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
	reps := b.inClinic(c, p.ID)
	for _, r := range reps[max(0, len(reps)-shownReps):] {
		out.Reps = append(out.Reps, r.Rep)
	}
	return out
}

// ClinicDo implements app.Book.
func (b *Book) ClinicDo(d app.Do, number int) error {
	return b.ChangeClinic(context.Background(), func(c *clinic.Clinic, now time.Time) error {
		switch d {
		case app.NextPlayer:
			_, err := c.MoveOn(now)
			return err
		case app.Number:
			return c.Jump(0, number, now)
		case app.More:
			return c.Arrive(number, now)
		case app.Less:
			return c.Leave(number, now)
		}
		return nil
	})
}
