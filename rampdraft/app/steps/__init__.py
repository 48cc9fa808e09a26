"""The job's steps, that lead: the list of them, what the one in hand needs next, and finding anything."""
