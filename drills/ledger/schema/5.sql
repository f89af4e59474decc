-- Of a rep that two cameras saw: from which view each reading is, "down the line:
-- line, hands_under; face-on: head_back".
ALTER TABLE reps ADD COLUMN views TEXT;
