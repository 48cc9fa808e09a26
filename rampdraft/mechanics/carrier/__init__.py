"""The carrier on its supports."""
