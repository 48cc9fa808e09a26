"""Which values are tried for which check, by subject: a table each."""
