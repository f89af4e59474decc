package book

import (
	"context"
	"strings"
	"time"

	"drillbay/drills/clinic"
)

// ClinicBegin begins a clinic with a list of names, one a line, and the names of its
// stations, the first with the camera; told is what the coach should know of the
// list, "" for nothing.
func (b *Book) ClinicBegin(list string, t Turns, stations []string) (told string, err error) {
	doubles, err := b.BeginClinic(context.Background(), list, stations, clinic.Rule{Reps: t.Reps, Time: time.Duration(t.Minutes) * time.Minute})
	if err == nil && len(doubles) > 0 {
		told = strings.Join(doubles, ", ") + " stood on the list more than once."
	}
	return told, err
}

// ClinicJoin lets those on a list come late.
func (b *Book) ClinicJoin(list string) error { return b.JoinClinic(context.Background(), list) }

// ClinicEnd ends it; the reps stay in the ledger.
func (b *Book) ClinicEnd() error { return b.EndClinic(context.Background()) }
