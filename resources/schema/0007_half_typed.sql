-- SPDX-License-Identifier: GPL-3.0-or-later
-- Schema 7: what is half-typed outside of a stop (a paper sheet, a report from the field), saved at
-- every change as the screen's own JSON and dropped once it is recorded.

CREATE TABLE half_typed (
    name TEXT PRIMARY KEY,
    content TEXT NOT NULL,
    saved_utc_ms BIGINT NOT NULL,
    saved_offset_s INTEGER NOT NULL,
    hash TEXT NOT NULL
);
