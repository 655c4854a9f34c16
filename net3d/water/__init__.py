"""The water stage: what the river pulls, and what has to hold it."""
