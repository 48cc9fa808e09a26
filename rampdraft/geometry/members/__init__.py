"""The one list of members that everything reads: the assembly, and what makes it."""
