"""Many designs tried for one answer."""
