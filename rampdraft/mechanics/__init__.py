"""Motion and force."""
