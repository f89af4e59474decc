package runner

import "fmt"

// job is a record on its way to the store. It stays first in the queue until
// the store has it.
type job struct {
	record  Record
	pending *pending // the rep that is told once stored; nil for a change
}

func (s *session) queue(j *job) {
	s.records[j.record.ID] = j.record
	s.store(j)
}

// store has a record stored after those before it.
func (s *session) store(j *job) {
	s.saving = append(s.saving, j)
	if len(s.saving) == 1 {
		s.save()
	}
}

func (s *session) save() {
	s.inFlight = true
	if s.tries > 0 {
		s.counters.Retries++
	}
	s.out = append(s.out, effect{save: s.saving[0]})
}

// saved takes the store's answer for the first of the queue.
func (s *session) saved(j *job, err error) {
	s.inFlight, s.changed = false, true
	if err != nil {
		s.tries++
		wait := retryFirst
		for range min(s.tries-1, 8) {
			wait *= 2
		}
		s.retryAt = s.now + min(wait, retryMost)
		s.raise("save", fmt.Sprintf("Rep %d is not saved: %v.", j.record.Rep.Number, err),
			"It is kept and tried again. Is there room on the disk, or is drillbay open twice?")
		return
	}
	s.saving, s.tries = s.saving[1:], 0
	s.counters.Stored++
	if j.pending != nil {
		s.told(j.pending)
	}
	if len(s.saving) > 0 {
		s.save()
		return
	}
	s.clear("save")
}
