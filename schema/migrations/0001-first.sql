-- SPDX-License-Identifier: MIT
-- The first shape of a store. Bodies are canonical JSON (sorted keys, no blanks); instants are whole
-- seconds since 1970 UTC; hours are whole hours since 1970 UTC. A migration that has been applied
-- anywhere is never edited: its checksum is kept in every store. A change is the next number.

PRAGMA application_id = 1165451892;

CREATE TABLE company (
    one     INTEGER PRIMARY KEY CHECK (one = 1),
    version INTEGER NOT NULL CHECK (version > 0),
    body    TEXT NOT NULL
) STRICT;

CREATE TABLE station (
    number          INTEGER PRIMARY KEY,
    id              TEXT NOT NULL UNIQUE,
    name            TEXT,
    latitude        REAL,
    longitude       REAL,
    forecast_made   INTEGER,
    version         INTEGER NOT NULL CHECK (version > 0),
    history_version INTEGER NOT NULL CHECK (history_version >= 0)
) STRICT;

-- kind: 0 observed, 1 forecast, 2 and up one past year each.
CREATE TABLE station_hour (
    station INTEGER NOT NULL REFERENCES station (number),
    kind    INTEGER NOT NULL CHECK (kind >= 0),
    hour    INTEGER NOT NULL,
    temp    REAL, -- degC
    rain    REAL, -- mm in the hour
    rh      REAL, -- %
    wind    REAL, -- m/s
    gust    REAL, -- m/s
    PRIMARY KEY (station, kind, hour)
) STRICT, WITHOUT ROWID;

CREATE TABLE job (
    number  INTEGER PRIMARY KEY,
    id      TEXT NOT NULL UNIQUE,
    version INTEGER NOT NULL CHECK (version > 0),
    created INTEGER NOT NULL,
    body    TEXT NOT NULL
) STRICT;

CREATE TRIGGER job_is_kept BEFORE DELETE ON job BEGIN
    SELECT RAISE(ABORT, 'a job is never deleted');
END;
CREATE TRIGGER job_keeps_its_id BEFORE UPDATE OF number, id, created ON job BEGIN
    SELECT RAISE(ABORT, 'the id of a job never changes');
END;

-- Append-only. sent: BLAKE2b-256 of the canonical body without received and who, so that the same
-- record sent twice is known again. hash: BLAKE2b-256 of previous (32 bytes; zeros for the first),
-- the job's id, one line feed, and the body.
CREATE TABLE record (
    seq      INTEGER PRIMARY KEY,
    job      INTEGER NOT NULL REFERENCES job (number),
    id       TEXT NOT NULL, -- the sender's; one job's own, so that case files of one page's ids fit
    kind     TEXT NOT NULL,
    at       INTEGER NOT NULL,
    received INTEGER NOT NULL,
    who      TEXT,
    body     TEXT NOT NULL,
    sent     BLOB NOT NULL CHECK (length(sent) = 32),
    previous BLOB NOT NULL CHECK (length(previous) = 32),
    hash     BLOB NOT NULL CHECK (length(hash) = 32),
    UNIQUE (job, id)
) STRICT;

CREATE INDEX record_of_job ON record (job, seq);

CREATE TRIGGER record_is_never_changed BEFORE UPDATE ON record BEGIN
    SELECT RAISE(ABORT, 'a record is never changed; write a correction');
END;
CREATE TRIGGER record_is_never_deleted BEFORE DELETE ON record BEGIN
    SELECT RAISE(ABORT, 'a record is never deleted; write a correction');
END;
CREATE TRIGGER record_follows_the_last BEFORE INSERT ON record
WHEN NEW.seq IS NOT (SELECT coalesce(max(seq), 0) + 1 FROM record)
  OR NEW.previous IS NOT coalesce((SELECT hash FROM record ORDER BY seq DESC LIMIT 1), zeroblob(32))
BEGIN
    SELECT RAISE(ABORT, 'a record follows the last one');
END;

CREATE TABLE link (
    number     INTEGER PRIMARY KEY,
    kind       TEXT NOT NULL CHECK (kind IN ('crew', 'homeowner', 'feed')),
    target     TEXT NOT NULL,
    generation INTEGER NOT NULL CHECK (generation > 0),
    made       INTEGER NOT NULL,
    revoked    INTEGER,
    token_hash BLOB NOT NULL UNIQUE CHECK (length(token_hash) = 32),
    UNIQUE (kind, target, generation)
) STRICT;

CREATE UNIQUE INDEX link_open ON link (kind, target) WHERE revoked IS NULL;

CREATE TABLE person (
    number   INTEGER PRIMARY KEY,
    name     TEXT NOT NULL,
    role     TEXT NOT NULL CHECK (role IN ('owner', 'office')),
    made     INTEGER NOT NULL,
    revoked  INTEGER,
    key_hash BLOB NOT NULL UNIQUE CHECK (length(key_hash) = 32)
) STRICT;

CREATE UNIQUE INDEX person_open ON person (name) WHERE revoked IS NULL;

CREATE TABLE secret (
    name  TEXT PRIMARY KEY,
    value BLOB NOT NULL
) STRICT, WITHOUT ROWID;
