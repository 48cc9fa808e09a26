"""Published rules as data, and how their files are read."""
