-- SPDX-License-Identifier: GPL-3.0-or-later
-- Schema 4: what work zones are worked out from: lanes of the street layer, what people have said
-- of streets and valves, and nut and lid for the load list. Both dialects take this part.

ALTER TABLE streets ADD COLUMN lanes INTEGER; -- of both directions together
ALTER TABLE streets ADD COLUMN lane_width_metres DOUBLE PRECISION;
ALTER TABLE streets ADD COLUMN divided INTEGER CHECK (divided IN (0, 1));

ALTER TABLE valves ADD COLUMN nut TEXT NOT NULL DEFAULT '';
ALTER TABLE valves ADD COLUMN lid TEXT NOT NULL DEFAULT '';

-- One row a street (by its folded name) or a valve (by its id). The content is JSON: the facts,
-- and the utility's own values in place of what is worked out.
CREATE TABLE known_sites (
    kind TEXT NOT NULL, -- street or valve
    subject TEXT NOT NULL,
    content TEXT NOT NULL,
    PRIMARY KEY (kind, subject)
);
