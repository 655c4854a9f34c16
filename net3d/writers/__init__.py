"""One file a format: what a design is written to."""
