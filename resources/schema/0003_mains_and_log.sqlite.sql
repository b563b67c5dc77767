-- SPDX-License-Identifier: GPL-3.0-or-later
-- Schema 3, the part in SQLite's own dialect: see 0001_first.sqlite.sql.

CREATE TRIGGER log_rows_stay_as_written BEFORE UPDATE ON log_rows
BEGIN
    SELECT RAISE(ABORT, 'the log is never changed: add to it');
END;

CREATE TRIGGER log_rows_stay BEFORE DELETE ON log_rows
BEGIN
    SELECT RAISE(ABORT, 'the log is never deleted: add to it');
END;

CREATE TRIGGER log_rows_stay_once BEFORE INSERT ON log_rows
WHEN EXISTS (SELECT 1 FROM log_rows WHERE id = NEW.id)
BEGIN
    SELECT RAISE(IGNORE);
END;
