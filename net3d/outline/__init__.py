"""The outline of a hoop: the closed curve that its rod is bent to."""
