package book

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"time"

	"drillbay/drills"
	"drillbay/drills/ledger"
)

// Clips lists the clips that were kept of a player, the oldest first. A clip that is listed
// but lies on another laptop is left out.
func (b *Book) Clips(player string) []ClipLine {
	b.mu.Lock()
	defer b.mu.Unlock()
	var out []ClipLine
	for _, c := range b.clips[player] {
		if !c.Missing {
			out = append(out, ClipLine{ID: c.ID, Rep: c.Rep, Player: player, File: c.File})
		}
	}
	return out
}

// Kept are the clips of all players, by player: whose clip is the newest comes first, and
// of each the newest does.
func (b *Book) Kept() []ClipLine {
	b.mu.Lock()
	defer b.mu.Unlock()
	type kept struct {
		ledger.Clip
		of *ledger.Player
	}
	var all []kept
	last := map[string]time.Time{}
	for i := range b.players {
		for _, c := range b.clips[b.players[i].ID] {
			if !c.Missing {
				p := &b.players[i]
				all = append(all, kept{c, p})
				if c.At.After(last[p.ID]) {
					last[p.ID] = c.At
				}
			}
		}
	}
	slices.SortStableFunc(all, func(a, b kept) int {
		return cmp.Or(last[b.of.ID].Compare(last[a.of.ID]), cmp.Compare(a.of.ID, b.of.ID), b.At.Compare(a.At))
	})
	out := make([]ClipLine, len(all))
	for i, k := range all {
		out[i] = ClipLine{ID: k.ID, Rep: k.Rep, Player: k.of.ID, Who: k.of.Name, File: k.File, At: k.At.UTC().Truncate(time.Second), Level: max(drills.FirstOf(b.lineOf(k.Rep).At, 0), 0)}
	}
	return out
}

// RenameClip gives a clip of a player another name, and says which.
func (b *Book) RenameClip(ctx context.Context, player, id, name string) (string, error) {
	b.changes.Lock()
	defer b.changes.Unlock()
	file, err := b.ledger.RenameClip(ctx, id, name)
	if err != nil {
		return "", err
	}
	b.changeClips(player, func(list []ledger.Clip) []ledger.Clip {
		for i := range list {
			if list[i].ID == id {
				list[i].File = file
			}
		}
		return list
	})
	return "It is called " + file + " now.", nil
}

// DeleteClip deletes one clip of a player, and says so.
func (b *Book) DeleteClip(ctx context.Context, player, id string) (string, error) {
	b.changes.Lock()
	defer b.changes.Unlock()
	if err := b.ledger.DeleteClip(ctx, id); err != nil {
		return "", err
	}
	b.changeClips(player, func(list []ledger.Clip) []ledger.Clip {
		return slices.DeleteFunc(list, func(c ledger.Clip) bool { return c.ID == id })
	})
	return "The clip is deleted.", nil
}

// changeClips changes the list of a player's clips, a copy of it.
func (b *Book) changeClips(player string, change func([]ledger.Clip) []ledger.Clip) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.clips[player] = change(slices.Clone(b.clips[player]))
}

// NoteClip takes in a clip that was kept of a player.
func (b *Book) NoteClip(player string, c ledger.Clip) {
	b.mu.Lock()
	defer b.mu.Unlock()
	list := b.clips[player]
	b.clips[player] = append(list[:len(list):len(list)], c)
}

// DeleteClips deletes the clips of a player, and says so.
func (b *Book) DeleteClips(ctx context.Context, player string) (string, error) {
	b.changes.Lock()
	defer b.changes.Unlock()
	n, err := b.ledger.DeleteClips(ctx, player)
	if err != nil {
		return "", err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	delete(b.clips, player)
	name := "the player"
	if i := b.find(player); i >= 0 {
		name = b.players[i].Name
	}
	if n == 1 {
		return fmt.Sprintf("The clip of %s is deleted.", name), nil
	}
	return fmt.Sprintf("%d clips of %s are deleted.", n, name), nil
}
