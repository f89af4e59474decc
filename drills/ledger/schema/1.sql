-- Players, clubs, bays, sessions, sets, reps. Lengths are metres, angles
-- degrees, depths cm, moments seconds of the capture clock, times of day
-- milliseconds since 1970 (UTC). What was not measured is NULL.
CREATE TABLE players (
  id TEXT PRIMARY KEY, name TEXT NOT NULL, hand TEXT NOT NULL, stature REAL,
  minor INTEGER NOT NULL, consent TEXT NOT NULL, consent_at INTEGER, created INTEGER NOT NULL
) STRICT;
CREATE TABLE clubs (
  id TEXT PRIMARY KEY, player TEXT NOT NULL REFERENCES players(id) ON DELETE CASCADE,
  name TEXT NOT NULL, length REAL NOT NULL CHECK (length BETWEEN 0.4572 AND 1.2192)
) STRICT;
CREATE INDEX clubs_player ON clubs(player);
CREATE TABLE bays (
  id TEXT PRIMARY KEY, name TEXT NOT NULL, camera TEXT NOT NULL, distance REAL, focal REAL, fov REAL,
  width INTEGER, height INTEGER, target_x REAL, target_y REAL, target_sigma REAL, roll REAL,
  flipped INTEGER NOT NULL, made INTEGER NOT NULL
) STRICT;
CREATE TABLE sessions (
  id TEXT PRIMARY KEY, player TEXT REFERENCES players(id) ON DELETE CASCADE, bay TEXT NOT NULL,
  began INTEGER NOT NULL
) STRICT;
CREATE INDEX sessions_player ON sessions(player);
CREATE TABLE sets (
  id TEXT PRIMARY KEY, session TEXT NOT NULL REFERENCES sessions(id) ON DELETE CASCADE,
  number INTEGER NOT NULL, drill TEXT NOT NULL, rung INTEGER NOT NULL, club TEXT NOT NULL, club_length REAL,
  kind TEXT NOT NULL, band REAL NOT NULL, began INTEGER NOT NULL
) STRICT;
CREATE INDEX sets_session ON sets(session);
CREATE TABLE reps (
  id TEXT PRIMARY KEY, part_of TEXT NOT NULL REFERENCES sets(id) ON DELETE CASCADE,
  number INTEGER NOT NULL, at INTEGER NOT NULL, taken INTEGER NOT NULL, kept INTEGER NOT NULL,
  verdict TEXT NOT NULL, just INTEGER NOT NULL, manner TEXT NOT NULL, why TEXT NOT NULL,
  line REAL, line_sigma REAL, elevation REAL, elevation_sigma REAL, depth REAL, depth_sigma REAL,
  smoothness REAL, tempo REAL, tempo_low REAL, tempo_high REAL,
  start REAL, back_start REAL, level REAL, catch REAL, top REAL, impact REAL, finish REAL
) STRICT;
CREATE INDEX reps_part_of ON reps(part_of);
CREATE TABLE settings (key TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT;
