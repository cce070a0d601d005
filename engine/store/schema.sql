-- One patient's case in one file. Content is never rewritten; records and events only ever grow.
CREATE TABLE content (
    hash   TEXT PRIMARY KEY,
    kind   TEXT NOT NULL,
    layout INTEGER NOT NULL,
    bytes  BLOB NOT NULL
) WITHOUT ROWID;
CREATE TABLE revision (
    id          INTEGER PRIMARY KEY,
    parent      INTEGER REFERENCES revision(id),
    root        TEXT NOT NULL REFERENCES content(hash),
    reason      TEXT NOT NULL,
    saved_at    TEXT NOT NULL,
    app_version TEXT NOT NULL
);
CREATE TABLE result (
    id          INTEGER PRIMARY KEY AUTOINCREMENT,
    kind        TEXT NOT NULL,
    inputs      TEXT NOT NULL,
    content     TEXT NOT NULL REFERENCES content(hash),
    computed_at TEXT NOT NULL,
    UNIQUE (kind, inputs)
);
CREATE TABLE record (
    id       INTEGER PRIMARY KEY,
    content  TEXT NOT NULL UNIQUE REFERENCES content(hash),
    previous TEXT NOT NULL
);
CREATE TABLE event (
    id   INTEGER PRIMARY KEY,
    at   TEXT NOT NULL,
    who  TEXT NOT NULL,
    what TEXT NOT NULL
);
-- Where one was: station, cursor, what was active. May be lost without harm.
CREATE TABLE desk (
    name  TEXT PRIMARY KEY,
    value TEXT NOT NULL
) WITHOUT ROWID;
CREATE TRIGGER record_fixed BEFORE UPDATE ON record BEGIN SELECT RAISE(ABORT, 'records cannot be changed'); END;
CREATE TRIGGER record_kept BEFORE DELETE ON record BEGIN SELECT RAISE(ABORT, 'records cannot be removed'); END;
CREATE TRIGGER event_fixed BEFORE UPDATE ON event BEGIN SELECT RAISE(ABORT, 'events cannot be changed'); END;
CREATE TRIGGER event_kept BEFORE DELETE ON event BEGIN SELECT RAISE(ABORT, 'events cannot be removed'); END;
