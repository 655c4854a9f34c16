"""The outline of a hoop, the closed curve that its rod is bent to, and the pose in which it stands."""
