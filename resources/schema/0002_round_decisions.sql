-- SPDX-License-Identifier: GPL-3.0-or-later
-- Schema 2: what a planner decides of a round by hand, so that drawing up again leaves it as it
-- is. Rounds of schema 1 had none of it. Both dialects take this part.

ALTER TABLE rounds ADD COLUMN breaks TEXT NOT NULL DEFAULT '[]'; -- JSON, in the order of the day
ALTER TABLE rounds ADD COLUMN first_pinned INTEGER NOT NULL DEFAULT 0
    CHECK (first_pinned IN (0, 1));
ALTER TABLE rounds ADD COLUMN last_pinned INTEGER NOT NULL DEFAULT 0
    CHECK (last_pinned IN (0, 1));
ALTER TABLE rounds ADD COLUMN told INTEGER NOT NULL DEFAULT 0 CHECK (told IN (0, 1));

ALTER TABLE round_stops ADD COLUMN must_go INTEGER NOT NULL DEFAULT 0 CHECK (must_go IN (0, 1));
ALTER TABLE round_stops ADD COLUMN held_to_next INTEGER NOT NULL DEFAULT 0
    CHECK (held_to_next IN (0, 1));
