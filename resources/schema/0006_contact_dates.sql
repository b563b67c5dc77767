-- SPDX-License-Identifier: GPL-3.0-or-later
-- Schema 6: on which day a customer's name and phone came in, so that they can be forgotten by
-- age. Empty: nobody knows, which counts as older than any day. Both dialects take this part.

ALTER TABLE services ADD COLUMN contact_since TEXT NOT NULL DEFAULT ''; -- an ISO 8601 day
