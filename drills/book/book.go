// Package book is the coach's book as the screens read it, kept in the
// ledger: players, how they stand on the ladder, their sessions; and what
// this laptop remembers, its settings and bays.
package book

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/google/uuid"

	"drillbay/drills"
	"drillbay/drills/clinic"
	"drillbay/drills/ledger"
	"drillbay/drills/pattern"
	"drillbay/drills/runner"
)

// Book answers what the screens ask, from memory; what is added goes to the ledger at once.
// It may be used from several goroutines.
type Book struct {
	ledger *ledger.Ledger
	drawn  string // reps of this bay are left out, "" for none
	ladder drills.Ladder
	faults []error // of drill files
	now    func() time.Time

	// Held by one change from its reckoning to the ledger's answer. Who reads
	// never waits for it.
	changes sync.Mutex

	mu      sync.Mutex                 // held to read and to publish, never over a write
	players []ledger.Player            // who practised last first
	leaving []ledger.Player            // who were deleted in this session, in that order
	clubs   map[string][]drills.Club   // by player, the shortest first
	inHand  map[string]string          // by player, the club that was chosen
	reps    map[string][]ledger.Record // by player, oldest first, one an id
	marks   map[string][]ledger.Mark   // by rep, in the order made
	clips   map[string][]ledger.Clip   // by player, the oldest first
	watched map[string][]drills.Watch  // by drill, where a coach chose otherwise than its file
	worked  map[string]worked          // by player, worked out already
	list    []PlayerLine               // all players, worked out already; nil: not
	group   *clinic.Clinic             // going on, nil: none; never changed, only replaced
}

// Read reads the ledger. Reps of the bay named leaveOut, a drawn one, do not
// tell how a player stands; "" leaves none out.
func Read(ctx context.Context, l *ledger.Ledger, leaveOut string) (*Book, error) {
	b := &Book{now: time.Now, ledger: l, drawn: leaveOut, clubs: map[string][]drills.Club{}, inHand: map[string]string{}, reps: map[string][]ledger.Record{}, marks: map[string][]ledger.Mark{}, clips: map[string][]ledger.Clip{}, worked: map[string]worked{}}
	if b.ladder, b.faults = LoadLadder(OwnDrills()); len(b.ladder.Rungs) == 0 {
		return nil, errors.Join(b.faults...)
	}
	var err error
	if b.players, err = l.Players(ctx); err != nil {
		return nil, err
	}
	for _, p := range b.players {
		if err := b.readClubs(ctx, p.ID); err != nil {
			return nil, err
		}
		if b.clips[p.ID], err = l.Clips(ctx, p.ID); err != nil {
			return nil, err
		}
		marks, err := l.MarksOf(ctx, p.ID)
		if err != nil {
			return nil, err
		}
		for _, m := range marks {
			b.marks[m.Rep] = append(b.marks[m.Rep], m)
		}
	}
	all, err := l.Reps(ctx, ledger.Which{})
	if err != nil {
		return nil, err
	}
	for _, r := range all {
		b.reps[r.Player.ID] = append(b.reps[r.Player.ID], r)
	}
	if err := b.readWatched(ctx); err != nil {
		return nil, err
	}
	if err := b.readGroup(ctx); err != nil {
		b.faults = append(b.faults, err)
	}
	return b, nil
}

// Note takes in a rep that was stored.
func (b *Book) Note(r ledger.Record) {
	b.mu.Lock()
	defer b.mu.Unlock()
	list := b.reps[r.Player.ID]
	if i := slices.IndexFunc(list, func(old ledger.Record) bool { return old.ID == r.ID }); i >= 0 {
		list = slices.Clone(list)
		list[i] = r
	} else {
		list = append(list[:len(list):len(list)], r)
	}
	b.reps[r.Player.ID] = list
	b.changed(r.Player.ID)
	defer b.noteInGroup(r)
	if i := b.find(r.Player.ID); i > 0 {
		p := b.players[i]
		b.players = slices.Insert(slices.Delete(slices.Clone(b.players), i, i+1), 0, p)
	}
}

func (b *Book) find(id string) int {
	return slices.IndexFunc(b.players, func(p ledger.Player) bool { return p.ID == id })
}

// worked caches what was worked out from a player's reps, until one of them or a mark
// changes, so that a draw costs what is seen, not what is stored.
type worked struct {
	view  *View
	line  *PlayerLine
	sets  []drills.Set
	reps  []drills.Rep // of the clinic that goes on, those that are shown
	sheet *ProgressSheet
	clubs []ClubLine
	plans map[float64][]PlanLine // by minutes
	day   int64                  // sheet and plans are of
}

// changed forgets what was worked out of a player.
func (b *Book) changed(player string) {
	delete(b.worked, player)
	b.list = nil
}

// today is the number of the day: another day, another order and another plan.
func (b *Book) today() int64 { return b.now().Unix() / 86400 }

// ofToday is the cache of a player without what belongs to another day.
func (b *Book) ofToday(player string) worked {
	w := b.worked[player]
	if day := b.today(); w.day != day {
		w.sheet, w.plans, w.day = nil, nil, day
	}
	return w
}

// Players are all that are known, the last one to practise first.
func (b *Book) Players() []PlayerLine {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.list == nil {
		b.list = make([]PlayerLine, len(b.players))
		for i, p := range b.players {
			b.list[i] = b.line(p)
		}
	}
	return b.list
}

func (b *Book) line(p ledger.Player) PlayerLine {
	w := b.worked[p.ID]
	if w.line == nil {
		l := b.workedLine(p)
		w = b.worked[p.ID]
		w.line = &l
		b.worked[p.ID] = w
	}
	return *w.line
}

func (b *Book) workedLine(p ledger.Player) PlayerLine {
	l := PlayerLine{Player: runner.Player{ID: p.ID, Name: p.Name, Hand: p.Hand}}
	l.Consent, l.ConsentAt = consentOf(p)
	sets := b.setsOf(p.ID)
	if len(sets) == 0 {
		return l
	}
	last := sets[len(sets)-1]
	l.Line = fmt.Sprintf("%s. %s.", b.title(last.Drill), b.inLastSet(last.Share(), last.Drill))
	if days := b.view(p.ID).Progress.Sessions; len(days) > 0 {
		l.Short = fmt.Sprintf("%s since %s", drills.Count(sessions(days), "session"), days[0].Began.Local().Format("2 January"))
	}
	return l
}

// inLastSet says how many of the last set of a drill counted, and that it was not finished.
func (b *Book) inLastSet(s drills.Share, drill string) string {
	out := s.String() + " in the last set"
	if d, ok := b.ladder.Drill(drill); ok && s.Of < d.Reps {
		out += ", which was not finished"
	}
	return out
}

// sessions counts them: practice and retention of one day are one.
func sessions(list []pattern.Session) int {
	ids := map[string]bool{}
	for _, s := range list {
		ids[s.ID] = true
	}
	return len(ids)
}

// counted are the reps of a player that tell how the player stands.
func (b *Book) counted(id string) []ledger.Record {
	var out []ledger.Record
	for _, r := range b.reps[id] {
		if !r.Taken && (b.drawn == "" || r.Bay != b.drawn) {
			out = append(out, r)
		}
	}
	return out
}

// AddPlayer keeps a new player, or says why not.
func (b *Book) AddPlayer(name string, hand drills.Hand, clubCm float64) (PlayerLine, error) {
	ctx := context.Background()
	b.changes.Lock()
	defer b.changes.Unlock()
	name = strings.TrimSpace(name)
	if err := b.isNew(name); err != nil {
		return PlayerLine{}, err
	}
	p := ledger.Player{ID: uuid.NewString(), Name: name, Hand: hand}
	if _, err := b.ledger.PutPlayer(ctx, p); err != nil {
		return PlayerLine{}, err
	}
	var clubs []drills.Club
	if clubCm > 0 {
		c := drills.Club{Name: fmt.Sprintf("%.0f cm", clubCm), Length: clubCm / 100}
		if _, err := b.ledger.PutClub(ctx, ledger.Club{Player: p.ID, Name: c.Name, Length: c.Length}); err != nil {
			return PlayerLine{}, err
		}
		clubs = []drills.Club{c}
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	b.clubs[p.ID] = clubs
	b.players = append([]ledger.Player{p}, b.players...)
	b.changed(p.ID)
	return b.line(p), nil
}

// Rename gives a player another name; all that is theirs stays theirs.
func (b *Book) Rename(id, name string) error {
	b.changes.Lock()
	defer b.changes.Unlock()
	name = strings.Join(strings.Fields(name), " ")
	b.mu.Lock()
	i := slices.IndexFunc(b.players, func(p ledger.Player) bool { return p.ID == id })
	var p ledger.Player
	if i >= 0 {
		p = b.players[i]
	}
	b.mu.Unlock()
	if i < 0 {
		return errors.New("this player is not in the ledger")
	}
	if !strings.EqualFold(p.Name, name) {
		if err := b.isNew(name); err != nil {
			return err
		}
	}
	p.Name = name
	if _, err := b.ledger.PutPlayer(context.Background(), p); err != nil {
		return err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	if i = slices.IndexFunc(b.players, func(p ledger.Player) bool { return p.ID == id }); i >= 0 {
		b.players[i].Name = name
	}
	b.changed(id)
	return nil
}

// isNew says why a player of a name cannot be added.
func (b *Book) isNew(name string) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	if slices.ContainsFunc(b.players, func(p ledger.Player) bool { return strings.EqualFold(p.Name, name) }) {
		return fmt.Errorf("%s is known already: add an initial to tell them apart", name)
	}
	return b.wasDeleted(name)
}
