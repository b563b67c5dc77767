-- SPDX-License-Identifier: GPL-3.0-or-later
-- Schema 3: sources of water, what people decided of the pipe network by hand, and the log.

CREATE TABLE sources (
    id TEXT PRIMARY KEY,
    number TEXT NOT NULL UNIQUE,
    name TEXT NOT NULL,
    kind TEXT NOT NULL,
    latitude DOUBLE PRECISION,
    longitude DOUBLE PRECISION
);

-- One row a decision, named by the utility's own numbers, so that it outlives a new import.
CREATE TABLE network_fixes (
    kind TEXT NOT NULL, -- what was decided: valve, join, apart, cross, service, hydrant, source
    number TEXT NOT NULL,
    main TEXT NOT NULL,
    detail TEXT NOT NULL, -- which end or branch; empty where there is none
    PRIMARY KEY (kind, number, main, detail)
);

-- What happened, beside visits: shuts and their steps, notices given. Added to, never changed,
-- never deleted, like visits: a body that is hashed, and the columns that are searched by.
CREATE TABLE log_rows (
    id TEXT PRIMARY KEY,
    kind TEXT NOT NULL,
    subject TEXT NOT NULL, -- the id of what it is about
    stamp BIGINT NOT NULL,
    body TEXT NOT NULL,
    hash TEXT NOT NULL
);
CREATE INDEX log_rows_by_kind ON log_rows (kind, stamp);
CREATE INDEX log_rows_by_subject ON log_rows (subject);
CREATE INDEX log_rows_by_stamp ON log_rows (stamp);
