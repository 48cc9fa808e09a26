"""The record of every value of a design: its path, label, unit, range and help."""
