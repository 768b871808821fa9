-- SPDX-License-Identifier: MIT
-- Signing in. A person chooses a password, kept stretched (Argon2id, in the form libsodium writes);
-- what proves afterwards who is there (a browser's session, a script's token, a phone's link) is
-- 160 or more random bits, kept as a hash. The keys of the first shape were never handed out.

CREATE TABLE person_now (
    number   INTEGER PRIMARY KEY,
    name     TEXT NOT NULL,
    role     TEXT NOT NULL CHECK (role IN ('owner', 'office', 'station')),
    made     INTEGER NOT NULL,
    revoked  INTEGER,
    password TEXT -- NULL: signs in with none
) STRICT;

INSERT INTO person_now SELECT number, name, role, made, revoked, NULL FROM person;
DROP TABLE person;
ALTER TABLE person_now RENAME TO person;
CREATE UNIQUE INDEX person_open ON person (name) WHERE revoked IS NULL;

-- kind: a browser's session, which ends, or a script's token, which stays until it is taken back.
CREATE TABLE pass (
    number     INTEGER PRIMARY KEY,
    person     INTEGER NOT NULL REFERENCES person (number),
    kind       TEXT NOT NULL CHECK (kind IN ('session', 'token')),
    made       INTEGER NOT NULL,
    seen       INTEGER NOT NULL,
    revoked    INTEGER,
    token_hash BLOB NOT NULL UNIQUE CHECK (length(token_hash) = 32)
) STRICT;

CREATE INDEX pass_of_person ON pass (person, kind, revoked);

-- A crew has a link for each phone; who sent a record is then the phone's name. NULL: no name.
ALTER TABLE link ADD COLUMN phone TEXT;
ALTER TABLE link ADD COLUMN seen INTEGER;
DROP INDEX link_open;
CREATE UNIQUE INDEX link_open ON link (kind, target, coalesce(phone, '')) WHERE revoked IS NULL;
