"""The checks, their working and their ways out."""
