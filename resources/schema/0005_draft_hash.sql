-- SPDX-License-Identifier: GPL-3.0-or-later
-- Schema 5: a hash over the half-typed stop too, so that a flipped bit in a count is noticed
-- before it is recorded. Empty: saved before this schema, taken as it is.

ALTER TABLE stop_drafts ADD COLUMN hash TEXT NOT NULL DEFAULT '';
