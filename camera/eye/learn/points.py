"""The keypoints, in the order of every list of them; left and right are the player's own."""
POINTS = ["grip_end", "hands", "shaft_end", "head", "crown", "neck",
          "left_shoulder", "right_shoulder", "left_elbow", "right_elbow",
          "left_wrist", "right_wrist", "left_hip", "right_hip",
          "left_knee", "right_knee", "left_ankle", "right_ankle", "ball"]
# The same list in a mirrored picture: left and right change names.
MIRRORED = [0, 1, 2, 3, 4, 5, 7, 6, 9, 8, 11, 10, 13, 12, 15, 14, 17, 16, 18]
