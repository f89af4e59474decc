package ledger_test

import (
	"context"
	"fmt"
	"log"
	"os"
	"path/filepath"
	"time"

	"github.com/google/uuid"

	"drillbay/drills"
	"drillbay/drills/ledger"
)

// A rep is on the disk once Save has returned.
func Example() {
	folder, err := os.MkdirTemp("", "ledger")
	if err != nil {
		log.Fatal(err)
	}
	defer os.RemoveAll(folder)
	l, err := ledger.Open(filepath.Join(folder, ledger.FileName))
	if err != nil {
		log.Fatal(err)
	}
	defer l.Close()

	ctx := context.Background()
	player := ledger.Player{ID: uuid.NewString(), Name: "Marta"}
	err = l.Save(ctx, ledger.Record{
		ID: uuid.NewString(), Session: uuid.NewString(), Set: 1, Player: player, Drill: "both-hands-catch", Rung: 3, At: time.Now(),
		Rep: drills.Rep{Number: 1, Verdict: drills.InLine, Manner: drills.Swung, ShaftLine: drills.Reading{Value: 2, Sigma: 1}},
	})
	if err != nil {
		log.Fatal(err)
	}
	reps, err := l.Reps(ctx, ledger.Which{Player: player.ID})
	if err != nil {
		log.Fatal(err)
	}
	for _, r := range reps {
		fmt.Println(r.Player.Name, r.Rep.Verdict, r.Counts())
	}
	// Output: Marta in line true
}
