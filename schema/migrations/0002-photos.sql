-- SPDX-License-Identifier: MIT
-- Photos, in the store itself, so that every copy of it has them. The body comes last: a row's other
-- columns are read without touching it. sha256 is the hash anybody can work out over a photo's file.
-- A photo belongs to a job; a record names it by its id (member `photo`), before or after it came.

CREATE TABLE photo (
    number   INTEGER PRIMARY KEY,
    job      INTEGER NOT NULL REFERENCES job (number),
    id       TEXT NOT NULL UNIQUE CHECK (length(id) = 36), -- the sender's UUID, small letters
    type     TEXT NOT NULL CHECK (type IN ('image/jpeg', 'image/png', 'image/webp')),
    width    INTEGER NOT NULL CHECK (width > 0),
    height   INTEGER NOT NULL CHECK (height > 0),
    taken    INTEGER, -- by the clock of who took it
    received INTEGER NOT NULL,
    who      TEXT,
    size     INTEGER NOT NULL CHECK (size > 0),
    sha256   BLOB NOT NULL CHECK (length(sha256) = 32),
    body     BLOB NOT NULL CHECK (length(body) = size)
) STRICT;

CREATE INDEX photo_of_job ON photo (job, number, size);

CREATE TRIGGER photo_is_never_changed BEFORE UPDATE ON photo BEGIN
    SELECT RAISE(ABORT, 'a photo is never changed; send another');
END;
CREATE TRIGGER photo_is_never_deleted BEFORE DELETE ON photo BEGIN
    SELECT RAISE(ABORT, 'a photo is never deleted');
END;
