-- Version 2. What was worked out and is shown again and again, beside the head it was worked out from. It can be thrown
-- away at any time, and what was withheld does not live on in it.

CREATE TABLE remembered (
    sort     TEXT    NOT NULL,
    chain    TEXT    NOT NULL,
    hash     BLOB    NOT NULL CHECK (length(hash) = 32),
    withheld INTEGER NOT NULL,
    text     TEXT    NOT NULL,
    PRIMARY KEY (sort, chain)
) STRICT, WITHOUT ROWID;

-- A card of one chain may show what another chain says, such as a person's name: so all of it goes.
CREATE TRIGGER withheld_is_not_remembered AFTER UPDATE ON entry
BEGIN
    DELETE FROM remembered;
END;
