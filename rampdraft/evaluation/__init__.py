"""The one door: everything that follows from a design."""
