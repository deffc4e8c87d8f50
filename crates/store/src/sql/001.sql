-- Version 1. An entry is only ever added. Its envelope stays for ever; its content goes only by a withholding.

CREATE TABLE chain (
    chain      TEXT    NOT NULL,
    variant    INTEGER NOT NULL,
    own        INTEGER NOT NULL CHECK (own IN (0, 1)),
    next       INTEGER NOT NULL DEFAULT 0,
    hash       BLOB    NOT NULL DEFAULT (zeroblob(32)),
    withheld   INTEGER NOT NULL DEFAULT 0,
    first_kind TEXT,
    last_at    TEXT,
    number     TEXT,
    title      TEXT,
    piece      TEXT,
    PRIMARY KEY (chain, variant),
    CHECK (own = 0 OR variant = 0)
) STRICT, WITHOUT ROWID;

CREATE TABLE entry (
    chain    TEXT    NOT NULL,
    variant  INTEGER NOT NULL,
    seq      INTEGER NOT NULL,
    hash     BLOB    NOT NULL CHECK (length(hash) = 32),
    kind     TEXT    NOT NULL,
    envelope TEXT    NOT NULL,
    content  TEXT,
    draft    TEXT,
    PRIMARY KEY (chain, variant, seq),
    FOREIGN KEY (chain, variant) REFERENCES chain (chain, variant)
) STRICT, WITHOUT ROWID;

CREATE UNIQUE INDEX entry_draft ON entry (chain, variant, draft) WHERE draft IS NOT NULL;

-- Which entries' contents are gone for good, wherever a copy of the entry turns up.
CREATE TABLE withholding (
    chain TEXT    NOT NULL,
    seq   INTEGER NOT NULL,
    hash  BLOB    NOT NULL CHECK (length(hash) = 32),
    PRIMARY KEY (chain, seq, hash)
) STRICT, WITHOUT ROWID;

-- Files that go with them, unless an entry that still has its content names the same hash.
CREATE TABLE withheld_file (
    hash BLOB NOT NULL PRIMARY KEY CHECK (length(hash) = 32)
) STRICT, WITHOUT ROWID;

-- Every hash that stands in the body of an entry. Worked out from the entries; can be made again.
CREATE TABLE cited (
    hash    BLOB    NOT NULL,
    chain   TEXT    NOT NULL,
    variant INTEGER NOT NULL,
    seq     INTEGER NOT NULL,
    PRIMARY KEY (hash, chain, variant, seq)
) STRICT, WITHOUT ROWID;

CREATE INDEX cited_by ON cited (chain, variant, seq);

-- The words of each body and their index. Worked out from the entries; can be made again.
CREATE TABLE words (
    id      INTEGER NOT NULL PRIMARY KEY,
    chain   TEXT    NOT NULL,
    variant INTEGER NOT NULL,
    seq     INTEGER NOT NULL,
    words   TEXT    NOT NULL,
    UNIQUE (chain, variant, seq)
) STRICT;

CREATE VIRTUAL TABLE search USING fts5 (
    words, content = 'words', content_rowid = 'id', tokenize = "unicode61 remove_diacritics 2"
);
-- A word taken out is taken out of the index's own pages at once, not at the next merge.
INSERT INTO search (search, rank) VALUES ('secure-delete', 1);

CREATE TRIGGER entry_follows BEFORE INSERT ON entry
WHEN NEW.seq IS NOT (SELECT next FROM chain WHERE chain = NEW.chain AND variant = NEW.variant)
BEGIN
    SELECT RAISE(ABORT, 'an entry follows the last one of its chain');
END;

CREATE TRIGGER entry_moves_head AFTER INSERT ON entry
BEGIN
    UPDATE chain
    SET next = NEW.seq + 1,
        hash = NEW.hash,
        first_kind = coalesce(first_kind, NEW.kind),
        last_at = NEW.envelope ->> '$.at'
    WHERE chain = NEW.chain AND variant = NEW.variant;
END;

CREATE TRIGGER entry_unchanged BEFORE UPDATE ON entry
WHEN NOT (
    NEW.chain = OLD.chain AND NEW.variant = OLD.variant AND NEW.seq = OLD.seq AND NEW.hash = OLD.hash
    AND NEW.kind = OLD.kind AND NEW.envelope = OLD.envelope AND NEW.draft IS OLD.draft
    AND NEW.content IS NULL AND OLD.content IS NOT NULL
    AND EXISTS (SELECT 1 FROM withholding WHERE chain = OLD.chain AND seq = OLD.seq AND hash = OLD.hash)
)
BEGIN
    SELECT RAISE(ABORT, 'an entry is never changed: only a withholding takes its content out');
END;

CREATE TRIGGER entry_counts_withheld AFTER UPDATE ON entry
BEGIN
    UPDATE chain SET withheld = withheld + 1 WHERE chain = NEW.chain AND variant = NEW.variant;
END;

CREATE TRIGGER entry_stays BEFORE DELETE ON entry
BEGIN
    SELECT RAISE(ABORT, 'an entry is never removed');
END;

CREATE TRIGGER withholding_unchanged BEFORE UPDATE ON withholding
BEGIN
    SELECT RAISE(ABORT, 'a withholding is never changed');
END;

CREATE TRIGGER withholding_stays BEFORE DELETE ON withholding
BEGIN
    SELECT RAISE(ABORT, 'a withholding is never removed');
END;

CREATE TRIGGER chain_stays BEFORE DELETE ON chain
BEGIN
    SELECT RAISE(ABORT, 'a chain is never removed');
END;
