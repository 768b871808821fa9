-- SPDX-License-Identifier: MIT
-- What each calendar feed last said, so that an entry keeps its number and is taken back by name.
-- day: civil day since 1970 of a whole-day entry; else start and finish. status: 0 tentative,
-- 1 confirmed, 2 cancelled.

CREATE TABLE feed_event (
    target   TEXT NOT NULL, -- a crew's id, or owner
    uid      TEXT NOT NULL,
    job      TEXT NOT NULL,
    task     TEXT,          -- NULL: the date given to the homeowner
    crew     TEXT,
    day      INTEGER,
    start    INTEGER,
    finish   INTEGER,
    status   INTEGER NOT NULL CHECK (status BETWEEN 0 AND 2),
    sequence INTEGER NOT NULL CHECK (sequence >= 0),
    changed  INTEGER NOT NULL,
    PRIMARY KEY (target, uid),
    CHECK ((day IS NULL) = (start IS NOT NULL) AND (start IS NULL) = (finish IS NULL))
) STRICT, WITHOUT ROWID;
