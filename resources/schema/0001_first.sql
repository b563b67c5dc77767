-- SPDX-License-Identifier: GPL-3.0-or-later
-- Schema 1. Written in what SQLite and PostgreSQL both take; what only one of them has stands in
-- a file beside this one (0001_first.sqlite.sql).
--
-- Conventions
--   ids          TEXT, a UUID in lower-case hexadecimal without braces
--   truth        INTEGER, 0 or 1
--   kinds        TEXT, the stable keys of core/storage/codes.cpp, never the words on the screen
--   moments      two columns: UTC in milliseconds since 1970, and the zone's offset in seconds
--   stamps       BIGINT, the hybrid logical clock (48 bits of milliseconds, 16 of counter)
--   positions    WGS 84 degrees in two DOUBLE PRECISION columns, both NULL where not known
--   lines        TEXT, Well-Known Text (OGC 06-103r4): LINESTRING (longitude latitude, ...)
--   sizes, turns INTEGER, quarter inches and quarter turns
--   hash         TEXT, SHA-256 in hexadecimal over the row's content as canonical JSON

CREATE TABLE schema_version (
    version INTEGER PRIMARY KEY,
    program TEXT NOT NULL -- the program's version that brought the file here
);

-- What the project has been told; each value is JSON.
CREATE TABLE settings (
    name TEXT PRIMARY KEY,
    content TEXT NOT NULL
);

-- The column match last used for files of one layout: JSON, field key to column name.
CREATE TABLE column_matches (
    layout TEXT PRIMARY KEY,
    content TEXT NOT NULL
);

CREATE TABLE valves (
    id TEXT PRIMARY KEY,
    number TEXT NOT NULL UNIQUE,
    latitude DOUBLE PRECISION,
    longitude DOUBLE PRECISION,
    address TEXT NOT NULL,
    ties TEXT NOT NULL,
    depth_to_nut_metres DOUBLE PRECISION,
    size_quarter_inches INTEGER NOT NULL, -- 0: not known
    kind TEXT NOT NULL,
    listed_quarter_turns INTEGER,
    closes TEXT NOT NULL,
    normally TEXT NOT NULL,
    role TEXT NOT NULL,
    install_year INTEGER,
    surface TEXT NOT NULL,
    zone TEXT NOT NULL,
    critical_customers TEXT NOT NULL,
    remarks TEXT NOT NULL,
    retired INTEGER NOT NULL CHECK (retired IN (0, 1)),
    CHECK ((latitude IS NULL) = (longitude IS NULL))
);

-- Every change to a valve, one row a field. Added to, never changed.
CREATE TABLE valve_edits (
    id TEXT PRIMARY KEY,
    valve_id TEXT NOT NULL REFERENCES valves (id),
    field TEXT NOT NULL,
    value_before TEXT NOT NULL,
    value_after TEXT NOT NULL,
    person TEXT NOT NULL,
    device TEXT NOT NULL,
    made_utc_ms BIGINT NOT NULL,
    made_offset_s INTEGER NOT NULL,
    why TEXT NOT NULL,
    stamp BIGINT NOT NULL,
    hash TEXT NOT NULL
);
CREATE INDEX valve_edits_by_valve ON valve_edits (valve_id);
CREATE INDEX valve_edits_by_stamp ON valve_edits (stamp);

CREATE TABLE streets (
    id TEXT PRIMARY KEY,
    street_key TEXT NOT NULL UNIQUE,
    name TEXT NOT NULL,
    kind TEXT NOT NULL,
    one_way TEXT NOT NULL,
    metres_per_second DOUBLE PRECISION,
    drivable INTEGER NOT NULL CHECK (drivable IN (0, 1)),
    junctions TEXT NOT NULL,
    line TEXT NOT NULL
);

CREATE TABLE mains (
    id TEXT PRIMARY KEY,
    number TEXT NOT NULL UNIQUE,
    size_quarter_inches INTEGER NOT NULL,
    material TEXT NOT NULL,
    install_year INTEGER,
    zone TEXT NOT NULL,
    line TEXT NOT NULL
);

CREATE TABLE hydrants (
    id TEXT PRIMARY KEY,
    number TEXT NOT NULL UNIQUE,
    latitude DOUBLE PRECISION,
    longitude DOUBLE PRECISION,
    address TEXT NOT NULL
);

CREATE TABLE services (
    id TEXT PRIMARY KEY,
    number TEXT NOT NULL UNIQUE,
    latitude DOUBLE PRECISION,
    longitude DOUBLE PRECISION,
    address TEXT NOT NULL,
    customer TEXT NOT NULL,
    phone TEXT NOT NULL,
    main_number TEXT NOT NULL,
    critical INTEGER NOT NULL CHECK (critical IN (0, 1))
);

-- Visits: added to, never changed, never deleted. The body is the whole visit and what the hash
-- is taken over; the columns before it repeat what is searched by. round_id and supersedes are no
-- references: rows of two laptops may arrive in any order.
CREATE TABLE visits (
    id TEXT PRIMARY KEY,
    valve_id TEXT NOT NULL REFERENCES valves (id),
    round_id TEXT,
    supersedes TEXT,
    stamp BIGINT NOT NULL,
    body TEXT NOT NULL,
    hash TEXT NOT NULL
);
CREATE INDEX visits_by_valve ON visits (valve_id);
CREATE INDEX visits_by_round ON visits (round_id);
CREATE INDEX visits_by_stamp ON visits (stamp);

CREATE TABLE rounds (
    id TEXT PRIMARY KEY,
    held_on TEXT NOT NULL, -- ISO 8601 day
    crew TEXT NOT NULL,
    shift_from TEXT NOT NULL, -- HH:MM:SS.mmm, the yard's own clock
    shift_to TEXT NOT NULL,
    start_latitude DOUBLE PRECISION,
    start_longitude DOUBLE PRECISION,
    finish_latitude DOUBLE PRECISION,
    finish_longitude DOUBLE PRECISION,
    state TEXT NOT NULL
);

CREATE TABLE round_stops (
    round_id TEXT NOT NULL REFERENCES rounds (id),
    place_in_order INTEGER NOT NULL,
    valve_id TEXT NOT NULL REFERENCES valves (id),
    PRIMARY KEY (round_id, place_in_order),
    UNIQUE (round_id, valve_id)
);

-- Stops that are being recorded, as the fields stand. round_id is no reference: a stop may be
-- recorded outside any round (the null UUID).
CREATE TABLE stop_drafts (
    round_id TEXT NOT NULL,
    valve_id TEXT NOT NULL REFERENCES valves (id),
    content TEXT NOT NULL,
    saved_utc_ms BIGINT NOT NULL,
    saved_offset_s INTEGER NOT NULL,
    PRIMARY KEY (round_id, valve_id)
);
