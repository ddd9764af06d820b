-- +goose Up
-- "WSPP": what tells this file from other SQLite files.
PRAGMA application_id = 0x57535050;

-- A time is in seconds since 1970, UTC. key is the name in the form that names are compared in.
-- stamp rises whenever all sessions of a person must end.
CREATE TABLE person (
  id       INTEGER PRIMARY KEY AUTOINCREMENT,
  name     TEXT NOT NULL,
  key      TEXT NOT NULL UNIQUE,
  role     TEXT NOT NULL CHECK (role IN ('reader', 'field', 'planner', 'keeper')),
  password TEXT,
  stamp    INTEGER NOT NULL DEFAULT 1,
  closed   INTEGER NOT NULL DEFAULT 0 CHECK (closed IN (0, 1)),
  made     INTEGER NOT NULL
) STRICT;

-- A code lets its bearer set a person's password, once. Without a person it makes the first keeper.
CREATE TABLE code (
  hash    BLOB PRIMARY KEY,
  person  INTEGER UNIQUE REFERENCES person (id),
  expires INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE session (
  token   TEXT PRIMARY KEY,
  data    BLOB NOT NULL,
  expires INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX session_by_end ON session (expires);

CREATE TABLE share (
  id        INTEGER PRIMARY KEY AUTOINCREMENT,
  hash      BLOB NOT NULL UNIQUE,
  label     TEXT NOT NULL,
  blurred   INTEGER NOT NULL CHECK (blurred IN (0, 1)),
  maker     INTEGER NOT NULL REFERENCES person (id),
  made      INTEGER NOT NULL,
  expires   INTEGER NOT NULL,
  withdrawn INTEGER NOT NULL DEFAULT 0 CHECK (withdrawn IN (0, 1))
) STRICT;

-- Who changed what about people and rights. Without an author: done on the computer itself.
CREATE TABLE change (
  seq    INTEGER PRIMARY KEY AUTOINCREMENT,
  at     INTEGER NOT NULL,
  author INTEGER REFERENCES person (id),
  what   TEXT NOT NULL,
  person INTEGER REFERENCES person (id),
  share  INTEGER REFERENCES share (id),
  former TEXT,
  now    TEXT
) STRICT;

-- +goose StatementBegin
CREATE TRIGGER change_is_not_rewritten BEFORE UPDATE ON change
BEGIN SELECT RAISE(ABORT, 'the log of changes is only added to'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER change_is_not_erased BEFORE DELETE ON change
BEGIN SELECT RAISE(ABORT, 'the log of changes is only added to'); END;
-- +goose StatementEnd
