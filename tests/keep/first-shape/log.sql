-- The log as the first released version wrote it: its shape, and one class. It is never changed: what comes after must read it.
CREATE TABLE migrations (version INTEGER PRIMARY KEY) STRICT;
CREATE TABLE sessions (
  number INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, room TEXT NOT NULL, plan TEXT NOT NULL, name TEXT NOT NULL,
  startedAt INTEGER NOT NULL, endedAt INTEGER, how TEXT NOT NULL, headCount INTEGER
) STRICT;
CREATE INDEX sessions_of_room ON sessions (room, number);
CREATE TABLE events (
  session TEXT NOT NULL REFERENCES sessions (id), seq INTEGER NOT NULL, command TEXT NOT NULL, part INTEGER NOT NULL,
  event TEXT NOT NULL, PRIMARY KEY (session, seq), UNIQUE (command, part)
) STRICT, WITHOUT ROWID;
CREATE TABLE phones (token TEXT NOT NULL, room TEXT NOT NULL, pairedAt INTEGER NOT NULL, PRIMARY KEY (token, room)) STRICT;
CREATE TABLE time (one INTEGER PRIMARY KEY CHECK (one = 1), bootId TEXT NOT NULL, offsetMs REAL NOT NULL) STRICT;
CREATE TABLE health (one INTEGER PRIMARY KEY CHECK (one = 1), asked INTEGER NOT NULL) STRICT;
INSERT INTO health VALUES (1, 4);
INSERT INTO migrations VALUES (1);
INSERT INTO sessions VALUES (1, 's', 'garden', 'small', 'Small class', 1750000000000, 1750000050000, 'ended', 9);
INSERT INTO events VALUES ('s', 1, 'c1', 0, '{"session":"s","room":"r","plan":{"format":1,"id":"small","name":"Small class","group":"general","sections":[{"id":"m","kind":"main","way":"together","rounds":1,"work":20,"rest":10,"show":"none","showEstimate":20,"lastRest":true,"items":[{"movement":"squat"},{"movement":"lunge"}]}]},"facts":{"march":{"name":"March","start":"standing","end":"standing","sides":"alternating","tempoS":1},"squat":{"name":"Squat","start":"standing","end":"standing","sides":"together","tempoS":3,"leastS":5},"lunge":{"name":"Lunge","start":"standing","end":"standing","sides":"each","tempoS":3,"leastS":3,"phrases":{"left":"left leg back","right":"right leg back"}},"bridge":{"name":"Bridge","start":"face-up","end":"face-up","sides":"together","tempoS":4,"leastS":4},"plank":{"name":"Plank","start":"plank","end":"face-down","sides":"together"},"clam":{"name":"Clam","start":"side-lying","end":"side-lying","sides":"each","tempoS":3,"phrases":{"left":"left leg back","right":"right leg back"}},"bird-dog":{"name":"Bird dog","start":"all-fours","end":"all-fours","sides":"alternating","tempoS":4},"chair-march":{"name":"Chair march","start":"chair","end":"chair","sides":"alternating","tempoS":1},"rise":{"name":"Sit to stand","start":"chair","end":"standing","sides":"together","tempoS":3}},"settings":{"countInMs":3000},"freeAt":null,"type":"started","at":1750000000000,"intervals":[{"id":"0.1.0.work","kind":"work","ends":"clock","section":0,"round":1,"item":0,"movement":"squat","lengthMs":20000},{"id":"0.1.1.rest","kind":"rest","ends":"clock","lengthMs":7000,"section":0,"round":1,"item":1,"movement":"lunge"},{"id":"0.1.1.set-up","kind":"set-up","ends":"clock","lengthMs":3000,"section":0,"round":1,"item":1,"movement":"lunge","side":"right"},{"id":"0.1.1.right","kind":"work","ends":"clock","section":0,"round":1,"item":1,"movement":"lunge","lengthMs":10000,"side":"right","pair":"0.1.1"},{"id":"0.1.1.other","kind":"other-side","ends":"clock","lengthMs":5000,"section":0,"round":1,"item":1,"movement":"lunge","side":"left"},{"id":"0.1.1.left","kind":"work","ends":"clock","section":0,"round":1,"item":1,"movement":"lunge","lengthMs":10000,"side":"left","pair":"0.1.1"},{"id":"0.0.rest","kind":"rest","ends":"clock","lengthMs":10000,"section":0,"round":0,"item":-1}],"countInMs":3000}');
INSERT INTO events VALUES ('s', 2, 'c2', 0, '{"type":"paused","at":1750000008000,"reason":"form"}');
INSERT INTO events VALUES ('s', 3, 'c3', 0, '{"type":"carried-on","at":1750000020000,"countInMs":3000}');
INSERT INTO events VALUES ('s', 4, 'c4', 0, '{"type":"noted","at":1750000020000,"text":"note 1"}');
INSERT INTO events VALUES ('s', 5, 'c5', 0, '{"type":"counted-heads","at":1750000020000,"n":9}');
INSERT INTO events VALUES ('s', 6, 'c6', 0, '{"type":"ended","at":1750000050000}');
INSERT INTO phones VALUES ('hash', 'garden', 1750000000000);
INSERT INTO time VALUES (1, 'boot', 12.5);
