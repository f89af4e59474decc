-- How high the hands are, cm above where they were at address: at the level
-- moment and at the top.
ALTER TABLE reps ADD COLUMN height REAL;
ALTER TABLE reps ADD COLUMN height_sigma REAL;
ALTER TABLE reps ADD COLUMN top_height REAL;
ALTER TABLE reps ADD COLUMN top_height_sigma REAL;
