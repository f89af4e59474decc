package app

import (
	"slices"

	"drillbay/drills/bay"
	"drillbay/drills/book"
)

// keepSetup stores the settings; what goes wrong is told.
func (a *App) keepSetup() {
	if a.d.KeepSetup == nil {
		return
	}
	if err := a.d.KeepSetup(a.setup); err != nil {
		a.tell("setup", "The settings are not stored: "+err.Error()+".", "They are used until you close drillbay.")
	}
}

func (a *App) keepBay() {
	if a.d.KeepBay == nil {
		return
	}
	if err := a.d.KeepBay(a.bay); err != nil {
		a.tell("bay", "The bay is not stored: "+err.Error()+".", "It is used until you close drillbay.")
	}
}

// Bay is the camera set-up as the user left it.
func (a *App) Bay() bay.Bay {
	b := a.bay
	b.Lines = slices.Clone(b.Lines)
	return b
}

// Setup is the settings as the user left them.
func (a *App) Setup() book.Setup { return a.setup }
