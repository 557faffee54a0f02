// Package keep is the storage that lasts: a [job.Storage] that answers at once from
// memory and brings every change to a database that all windows share.
//
// Three places hold a job, each for its own reason:
//
//   - memory, so that reading and listing wait for nothing;
//   - the database (the browser's IndexedDB, static/store.js), which has room for years
//     and is written a moment later;
//   - the browser's small store, in which every change is noted at once and from which it
//     is taken when the database has it. A tab that is killed right after a key leaves its
//     note, and the next start brings it in. It also keeps what is not a job, as the
//     choice of colours.
//
// Two windows lose nothing: a record has a revision, and a change names the revision it
// was made from. Where another window was first, its text stays, and what was typed here is
// kept beside it under a new key. A window hears of what the others write and shows it.
//
// Before there was a database, jobs lay in the small store under their own keys. They are
// brought in as notes are, and taken away once the database was read again and gave back
// each of them. An older version of the page that is still open, or comes back, writes
// there again; the next start brings that in too.
//
// The database may be shut (a policy, a private window, a newer layout, no answer). Then
// the small store keeps everything, as it did before, and it is said that what the
// database holds is out of reach.
//
// Looked for and not taken: a library. The bindings there are for IndexedDB in Go stand on
// syscall/js, which go-app wraps so that pages run in tests, and they are bindings: the
// compare-and-set, the notes and the windows would still be ours. A transaction is over as
// soon as its last answer found no new question, so it is led in JavaScript, where no
// scheduler stands between; that also lets the database be opened while the program is
// still being fetched, and read by the page that appears when the program has died.
//
// The tests play windows against a database in memory, in every order, with windows that
// end at any point: what was typed is found afterwards.
package keep
