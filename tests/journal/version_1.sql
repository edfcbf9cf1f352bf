-- A journal as schema version 1 wrote it: the rows of tests/journal/rows.hpp, three entries. Never edited.
PRAGMA foreign_keys=OFF;
PRAGMA application_id=1399418988;
PRAGMA user_version=1;
BEGIN TRANSACTION;
CREATE TABLE drill (
    id TEXT PRIMARY KEY NOT NULL REFERENCES row(id),
    sitting TEXT NOT NULL REFERENCES sitting(id),
    kind TEXT NOT NULL,
    body TEXT NOT NULL
) STRICT;
INSERT INTO "drill" VALUES('babf27c8-3b94-40f8-be99-cf07cc29d123','c4a81890-de79-457e-95f2-bfa5d5319a9d','detection','{"seed":7}');
CREATE TABLE entry (
    id TEXT PRIMARY KEY NOT NULL REFERENCES row(id),
    drill TEXT NOT NULL REFERENCES drill(id),
    number INTEGER NOT NULL CHECK (number >= 0),
    kind TEXT NOT NULL,
    body TEXT NOT NULL,
    UNIQUE (drill, number)
) STRICT;
INSERT INTO "entry" VALUES('672be053-0e3a-426f-b0f8-a9ce30766d25','babf27c8-3b94-40f8-be99-cf07cc29d123',0,'lock','{"place":0}');
INSERT INTO "entry" VALUES('fa9babc7-77f2-4af0-b7ba-bd27cc47d680','babf27c8-3b94-40f8-be99-cf07cc29d123',1,'lock','{"place":1}');
INSERT INTO "entry" VALUES('2e7e8302-be34-49f9-9e79-cb88963cecff','babf27c8-3b94-40f8-be99-cf07cc29d123',2,'lock','{"place":2}');
CREATE TABLE fact (
    id TEXT PRIMARY KEY NOT NULL REFERENCES row(id),
    person TEXT NOT NULL REFERENCES person(id),
    kind TEXT NOT NULL,
    body TEXT NOT NULL
) STRICT;
CREATE TABLE person (
    id TEXT PRIMARY KEY NOT NULL REFERENCES row(id),
    name TEXT NOT NULL,
    invented INTEGER NOT NULL CHECK (invented IN (0, 1))
) STRICT;
INSERT INTO "person" VALUES('86f686bb-f5db-4422-a4af-81320529be22','A person of these tests',1);
CREATE TABLE row (
    number INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE CHECK (length(id) = 36),
    kind TEXT NOT NULL,
    at_utc_ms INTEGER NOT NULL,
    at_offset_min INTEGER NOT NULL,
    at_monotonic_ms INTEGER NOT NULL
) STRICT;
INSERT INTO "row" VALUES(1,'86f686bb-f5db-4422-a4af-81320529be22','person',1772391900000,60,0);
INSERT INTO "row" VALUES(2,'c4a81890-de79-457e-95f2-bfa5d5319a9d','sitting',1772391960000,60,60000);
INSERT INTO "row" VALUES(3,'babf27c8-3b94-40f8-be99-cf07cc29d123','drill',1772392020000,60,120000);
INSERT INTO "row" VALUES(4,'672be053-0e3a-426f-b0f8-a9ce30766d25','entry',1772392080000,60,180000);
INSERT INTO "row" VALUES(5,'fa9babc7-77f2-4af0-b7ba-bd27cc47d680','entry',1772392140000,60,240000);
INSERT INTO "row" VALUES(6,'2e7e8302-be34-49f9-9e79-cb88963cecff','entry',1772392200000,60,300000);
CREATE TABLE sitting (
    id TEXT PRIMARY KEY NOT NULL REFERENCES row(id),
    person TEXT NOT NULL REFERENCES person(id),
    body TEXT NOT NULL
) STRICT;
INSERT INTO "sitting" VALUES('c4a81890-de79-457e-95f2-bfa5d5319a9d','86f686bb-f5db-4422-a4af-81320529be22','{"temperature_degC":20.5}');
CREATE TABLE strike (
    id TEXT PRIMARY KEY NOT NULL REFERENCES row(id),
    target TEXT NOT NULL REFERENCES row(id),
    strikes INTEGER NOT NULL CHECK (strikes IN (0, 1)),
    reason TEXT NOT NULL
) STRICT;
CREATE INDEX fact_of_person ON fact(person);
CREATE INDEX sitting_of_person ON sitting(person);
CREATE INDEX drill_of_sitting ON drill(sitting);
CREATE INDEX strike_of_target ON strike(target);
CREATE TRIGGER row_no_UPDATE BEFORE UPDATE ON row BEGIN SELECT RAISE(ABORT, 'the journal is append-only: strike out instead'); END;
CREATE TRIGGER row_no_DELETE BEFORE DELETE ON row BEGIN SELECT RAISE(ABORT, 'the journal is append-only: strike out instead'); END;
CREATE TRIGGER person_no_UPDATE BEFORE UPDATE ON person BEGIN SELECT RAISE(ABORT, 'the journal is append-only: strike out instead'); END;
CREATE TRIGGER person_no_DELETE BEFORE DELETE ON person BEGIN SELECT RAISE(ABORT, 'the journal is append-only: strike out instead'); END;
CREATE TRIGGER fact_no_UPDATE BEFORE UPDATE ON fact BEGIN SELECT RAISE(ABORT, 'the journal is append-only: strike out instead'); END;
CREATE TRIGGER fact_no_DELETE BEFORE DELETE ON fact BEGIN SELECT RAISE(ABORT, 'the journal is append-only: strike out instead'); END;
CREATE TRIGGER sitting_no_UPDATE BEFORE UPDATE ON sitting BEGIN SELECT RAISE(ABORT, 'the journal is append-only: strike out instead'); END;
CREATE TRIGGER sitting_no_DELETE BEFORE DELETE ON sitting BEGIN SELECT RAISE(ABORT, 'the journal is append-only: strike out instead'); END;
CREATE TRIGGER drill_no_UPDATE BEFORE UPDATE ON drill BEGIN SELECT RAISE(ABORT, 'the journal is append-only: strike out instead'); END;
CREATE TRIGGER drill_no_DELETE BEFORE DELETE ON drill BEGIN SELECT RAISE(ABORT, 'the journal is append-only: strike out instead'); END;
CREATE TRIGGER entry_no_UPDATE BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, 'the journal is append-only: strike out instead'); END;
CREATE TRIGGER entry_no_DELETE BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, 'the journal is append-only: strike out instead'); END;
CREATE TRIGGER strike_no_UPDATE BEFORE UPDATE ON strike BEGIN SELECT RAISE(ABORT, 'the journal is append-only: strike out instead'); END;
CREATE TRIGGER strike_no_DELETE BEFORE DELETE ON strike BEGIN SELECT RAISE(ABORT, 'the journal is append-only: strike out instead'); END;
COMMIT;
