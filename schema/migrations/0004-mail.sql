-- SPDX-License-Identifier: MIT
-- Messages somebody drafted, and things somebody has to be told. Instants are seconds since 1970 UTC.

CREATE TABLE mail (
    number   INTEGER PRIMARY KEY,
    id       TEXT NOT NULL UNIQUE,      -- a UUID; the left half of its Message-ID
    job      INTEGER REFERENCES job (number),
    kind     TEXT NOT NULL CHECK (kind IN ('homeowner', 'alarm')),
    receiver TEXT NOT NULL,             -- an address
    subject  TEXT NOT NULL,
    body     TEXT NOT NULL,
    made     INTEGER NOT NULL,
    made_by  TEXT,                      -- NULL: the watch itself
    sent     INTEGER                    -- when it left the queue; NULL: it is in it
) STRICT;

CREATE INDEX mail_of_job ON mail (job, number);
CREATE INDEX mail_queued ON mail (number) WHERE sent IS NULL;

-- kind: not-yet (a wait that was over is not any more), frost, withdrawn (the date given), missed
-- (a cut-off). about: the clock, task or date it speaks of. Open until seen by the office; the crew's
-- page has a mark of its own.
CREATE TABLE alarm (
    number      INTEGER PRIMARY KEY,
    job         INTEGER NOT NULL REFERENCES job (number),
    kind        TEXT NOT NULL CHECK (kind IN ('not-yet', 'frost', 'withdrawn', 'missed')),
    about       TEXT NOT NULL,
    since       INTEGER,                -- the start of the clock it speaks of: another start is another wait
    at          INTEGER NOT NULL,       -- when it was found
    due         INTEGER,                -- when it happens: the frost, the cut-off
    told        INTEGER NOT NULL DEFAULT 0 CHECK (told BETWEEN 0 AND 2), -- mails: one, and one repeat
    told_at     INTEGER,
    over        INTEGER,                -- when it was true no more
    seen        INTEGER,
    seen_by     TEXT,
    crew_seen   INTEGER
) STRICT;

CREATE UNIQUE INDEX alarm_open ON alarm (job, kind, about) WHERE over IS NULL;
CREATE INDEX alarm_unseen ON alarm (number) WHERE seen IS NULL OR crew_seen IS NULL;

-- What the watch last saw of each job, so that a restart forgets nothing.
CREATE TABLE watched (
    job   INTEGER PRIMARY KEY REFERENCES job (number),
    open  TEXT NOT NULL,                -- ids of clocks that were open, with a blank between
    given INTEGER                       -- the date given while the plan supported it; civil day
) STRICT;
