package book

import (
	"context"
	"fmt"

	"drillbay/app"
	"drillbay/drills/ledger"
)

// Clips implements app.Book. What is listed but lies on another laptop is left
// out.
func (b *Book) Clips(player string) []app.ClipLine {
	b.mu.Lock()
	defer b.mu.Unlock()
	var out []app.ClipLine
	for _, c := range b.clips[player] {
		if !c.Missing {
			out = append(out, app.ClipLine{ID: c.ID, Rep: c.Rep, File: c.File})
		}
	}
	return out
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
