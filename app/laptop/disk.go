package laptop

import (
	"fmt"
	"os"
	"path/filepath"
	"time"
)

// DiskFigures holds what was measured of the disk under a folder.
type DiskFigures struct {
	Folder string
	Free   uint64  // bytes
	Write  float64 // bytes a second, to the disk
	Sync   Timing  // of a small write that must be on the disk
	Err    error
}

// Sizes of the disk check.
const (
	bulk    = 16 << 20
	record  = 4 << 10
	records = 30
)

// WatchDisk writes a file into a folder, times it by a clock and removes it.
func WatchDisk(folder string, now func() time.Duration) (d DiskFigures) {
	d.Folder = folder
	if d.Free, d.Err = freeSpace(folder); d.Err != nil {
		return d
	}
	if d.Free < 4*bulk {
		return d
	}
	path := filepath.Join(folder, ".disk-check")
	file, err := os.OpenFile(path, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err != nil {
		d.Err = err
		return d
	}
	defer func() {
		if err := file.Close(); err != nil && d.Err == nil {
			d.Err = err
		}
		if err := os.Remove(path); err != nil && d.Err == nil {
			d.Err = err
		}
	}()
	block := make([]byte, 1<<20)
	for i := range block {
		block[i] = byte(i * 7)
	}
	start := now()
	for range bulk / len(block) {
		if _, d.Err = file.Write(block); d.Err != nil {
			return d
		}
	}
	if d.Err = file.Sync(); d.Err != nil {
		return d
	}
	if took := now() - start; took > 0 {
		d.Write = bulk / took.Seconds()
	}
	d.Sync = Time(records, now, func() {
		if _, err := file.Write(block[:record]); err != nil {
			d.Err = err
		}
		if err := file.Sync(); err != nil {
			d.Err = err
		}
	})
	return d
}

// JudgeDisk grades the disk: room for clips, quick enough to keep one, and a
// rep on the disk well before it is told (common practice).
func JudgeDisk(d DiskFigures) Finding {
	f := Finding{Check: "disk", Grade: Good}
	if d.Err != nil {
		f.Grade = Poor
		f.Remedy = fmt.Sprintf("nothing can be kept in %s: %v; choose another folder or free the disk", d.Folder, d.Err)
		return f
	}
	const mega, giga = 1e6, 1e9
	f.Figure = fmt.Sprintf("%.1f GB free, %.0f MB/s, a record in %.0f ms", float64(d.Free)/giga, d.Write/mega, ms(d.Sync.Median))
	switch {
	case d.Free < 0.5*giga:
		f.Grade = Poor
		f.Remedy = "free some disk: at least 0.5 GB, 5 GB to keep clips"
	case d.Sync.High > 400*time.Millisecond:
		f.Grade = Poor
		f.Remedy = "the disk is slow to keep a record, so verdicts come late: use a folder on the laptop's own disk"
	case d.Free < 5*giga:
		f.Grade = Fair
		f.Remedy = "enough for the ledger, little for clips: free 5 GB"
	case d.Write < 20*mega:
		f.Grade = Fair
		f.Remedy = "clips are slow to keep: use a folder on the laptop's own disk"
	}
	return f
}
