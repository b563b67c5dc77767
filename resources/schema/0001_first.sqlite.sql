-- SPDX-License-Identifier: GPL-3.0-or-later
-- Schema 1, the part in SQLite's own dialect: the file itself refuses to change what is only ever
-- added to, also when some other program tries. (PostgreSQL says this with a trigger function.)

CREATE TRIGGER visits_stay_as_written BEFORE UPDATE ON visits
BEGIN
    SELECT RAISE(ABORT, 'a visit is never changed: add a correction');
END;

CREATE TRIGGER visits_stay BEFORE DELETE ON visits
BEGIN
    SELECT RAISE(ABORT, 'a visit is never deleted: add a correction');
END;

-- INSERT OR REPLACE takes the old row away without asking the trigger above.
CREATE TRIGGER visits_stay_once BEFORE INSERT ON visits
WHEN EXISTS (SELECT 1 FROM visits WHERE id = NEW.id)
BEGIN
    SELECT RAISE(IGNORE);
END;

CREATE TRIGGER valve_edits_stay_as_written BEFORE UPDATE ON valve_edits
BEGIN
    SELECT RAISE(ABORT, 'the record of edits is never changed');
END;

CREATE TRIGGER valve_edits_stay BEFORE DELETE ON valve_edits
BEGIN
    SELECT RAISE(ABORT, 'the record of edits is never deleted');
END;

CREATE TRIGGER valve_edits_stay_once BEFORE INSERT ON valve_edits
WHEN EXISTS (SELECT 1 FROM valve_edits WHERE id = NEW.id)
BEGIN
    SELECT RAISE(IGNORE);
END;
