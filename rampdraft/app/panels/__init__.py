"""The areas of the window."""
