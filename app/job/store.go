package job

import (
	"encoding/json"
	"errors"
	"slices"
	"time"

	"twoneedles/refrig"
)

// Storage keeps texts by key. The page supplies the browser's; tests and a
// browser that denies storage use [Memory]. An error that wraps [ErrFull] says
// that there is no room, any other that storing is not allowed.
type Storage interface {
	Get(key string) (value string, ok bool, err error)
	Set(key, value string) error
	Remove(key string) error
	Keys() ([]string, error)
}

// ErrFull is wrapped by a [Storage] that has no room left.
var ErrFull = errors.New("storage is full")

// Codes of [Error] from a [Store].
const (
	StoreFull    = "store_full"    // no room; the job is kept in memory
	StoreDenied  = "store_denied"  // the browser refuses; the job is kept in memory
	StoreMissing = "store_missing" // no such job
	StoreChanged = "store_changed" // another window saved a newer state of the job
	StoreSpare   = "store_spare"   // the database refuses; the small store holds the job
	StoreShut    = "store_shut"    // the database cannot be opened, and held jobs before
	StoreNewer   = "store_newer"   // a newer version of the page laid the database out
	StoreCleared = "store_cleared" // what was kept is gone; {n} other jobs are only in memory now
	StoreCopied  = "store_copied"  // {n} jobs had been changed in two windows
)

// Store keeps jobs under one key each, so that a damaged one harms no other. A
// job that could not be written stays in memory: work goes on, Unsaved counts
// it, and export still holds it.
type Store struct {
	at       Storage
	unsaved  map[string]Job
	lastSeen map[string]string  // id → text this store last read or wrote
	listed   map[string]*listed // by id
}

// Keys of what is stored: a job's, and which one is open. Everything of ours starts with
// the same word, because the page may share its origin with others.
const (
	KeyPrefix  = "twoneedles.job."
	KeyCurrent = "twoneedles.current"
)

// NewStore returns a store over at.
func NewStore(at Storage) *Store {
	return &Store{at: at, unsaved: map[string]Job{}, lastSeen: map[string]string{}, listed: map[string]*listed{}}
}

// Save writes j. With an *[Error] of StoreFull or StoreDenied j is kept in memory
// and will be tried again at the next Save of it. With StoreChanged nothing is
// written: what another window saved stays, and j belongs under a new id (see
// [Store.SaveCopy]).
func (s *Store) Save(j Job) error {
	text := j.stored()
	if have, ok, err := s.at.Get(KeyPrefix + j.ID); err == nil && ok && have != text {
		if seen, known := s.lastSeen[j.ID]; !known || seen != have {
			return &Error{What: StoreChanged}
		}
	}
	if err := s.at.Set(KeyPrefix+j.ID, text); err != nil {
		s.unsaved[j.ID] = j.Clone()
		if have, ok, _ := s.at.Get(KeyPrefix + j.ID); ok && have == text {
			s.lastSeen[j.ID] = text // it is there, and does not last: no other window's
		}
		return storeError(err)
	}
	delete(s.unsaved, j.ID)
	s.lastSeen[j.ID] = text
	return nil
}

// SaveCopy saves j under a new id and returns it.
func (s *Store) SaveCopy(j Job) (Job, error) {
	j = j.Clone()
	j.ID = NewID()
	return j, s.Save(j)
}

func storeError(err error) error {
	if errors.Is(err, ErrFull) {
		return &Error{What: StoreFull, Err: err}
	}
	return &Error{What: StoreDenied, Err: err}
}

// Unsaved counts the jobs that are only in memory.
func (s *Store) Unsaved() int { return len(s.unsaved) }

// Load returns the job id, with what [Restore] had to change.
func (s *Store) Load(id string) (Job, []refrig.Warning, error) {
	if j, ok := s.unsaved[id]; ok {
		return j.Clone(), nil, nil
	}
	text, err := s.text(id)
	if err != nil {
		return Job{}, nil, err
	}
	j, warn, err := Restore([]byte(jobPart(text)))
	if err != nil {
		return Job{}, nil, err
	}
	j.ID = id // the key decides
	s.lastSeen[id] = text
	return j, warn, nil
}

// text is what is kept of the job id.
func (s *Store) text(id string) (string, error) {
	text, ok, err := s.at.Get(KeyPrefix + id)
	if err != nil {
		return "", storeError(err)
	}
	if !ok {
		return "", &Error{What: StoreMissing}
	}
	return text, nil
}

// Raw returns what is kept of the job id, readable or not, and how the name of a file of it
// ends: one of a newer version can be imported there.
func (s *Store) Raw(id string) (text, ending string, err error) {
	text, err = s.text(id)
	if part := jobPart(text); json.Valid([]byte(part)) {
		return part, "json", err
	}
	return text, "txt", err
}

// Unreadable returns the id of the job that was open last where it is there and cannot be
// read.
func (s *Store) Unreadable() (id string, is bool) {
	id, ok, err := s.at.Get(KeyCurrent)
	if err != nil || !ok {
		return "", false
	}
	_, err = s.Look(id)
	return id, IsUnreadable(err)
}

// List returns every job whole, the latest first, and the ids of those that cannot be
// read. It takes about a hundred times as long as [Store.Entries].
func (s *Store) List() (jobs []Job, unreadable []string, err error) {
	list, unreadable, err := s.Entries()
	for _, e := range list {
		j, err := s.Look(e.ID)
		if err != nil {
			unreadable = append(unreadable, e.ID)
			continue
		}
		jobs = append(jobs, j)
	}
	slices.Sort(unreadable)
	return jobs, unreadable, err
}

// Look returns the job id to be read only: looking must not hide what another window
// saved from the next [Store.Save].
func (s *Store) Look(id string) (Job, error) {
	seen, known := s.lastSeen[id]
	j, _, err := s.Load(id)
	if known {
		s.lastSeen[id] = seen
	} else {
		delete(s.lastSeen, id)
	}
	return j, err
}

// Duplicate saves a copy of the job id as a new one made now.
func (s *Store) Duplicate(id string, now time.Time) (Job, error) {
	j, _, err := s.Load(id)
	if err != nil {
		return Job{}, err
	}
	j.Created = now.UTC().Truncate(time.Second)
	j.Updated = j.Created
	// What was found at the car, and that it was in order, was found once.
	j.Repair.FoundAt, j.Before.Sound, j.After.Sound = time.Time{}, false, false
	return s.SaveCopy(j)
}

// Delete removes the job id and returns a way to bring it back, byte for byte,
// readable or not.
func (s *Store) Delete(id string) (undo func() error, err error) {
	kept, inMemory := s.unsaved[id]
	text, ok, err := s.at.Get(KeyPrefix + id)
	if err != nil {
		return nil, storeError(err)
	}
	if !ok && !inMemory {
		return nil, &Error{What: StoreMissing}
	}
	if ok {
		if err := s.at.Remove(KeyPrefix + id); err != nil {
			return nil, storeError(err)
		}
	}
	delete(s.unsaved, id)
	return func() error {
		if inMemory {
			s.unsaved[id] = kept
		}
		if !ok {
			return nil
		}
		if err := s.at.Set(KeyPrefix+id, text); err != nil {
			return storeError(err)
		}
		return nil
	}, nil
}

// SetCurrent remembers which job is open.
func (s *Store) SetCurrent(id string) error {
	if err := s.at.Set(KeyCurrent, id); err != nil {
		return storeError(err)
	}
	return nil
}

// Current returns the job that was open last; ok is false if there is none that
// can be read.
func (s *Store) Current() (j Job, warn []refrig.Warning, ok bool) {
	id, ok, err := s.at.Get(KeyCurrent)
	if err != nil || !ok {
		return Job{}, nil, false
	}
	j, warn, err = s.Load(id)
	return j, warn, err == nil
}

// Memory is a [Storage] that forgets when the page closes.
type Memory map[string]string

// Get implements [Storage].
func (m Memory) Get(key string) (string, bool, error) { v, ok := m[key]; return v, ok, nil }

// Set implements [Storage].
func (m Memory) Set(key, value string) error { m[key] = value; return nil }

// Remove implements [Storage].
func (m Memory) Remove(key string) error { delete(m, key); return nil }

// Keys implements [Storage].
func (m Memory) Keys() ([]string, error) {
	var keys []string
	for k := range m {
		keys = append(keys, k)
	}
	return keys, nil
}
