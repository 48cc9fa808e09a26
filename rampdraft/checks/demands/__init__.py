"""What the program itself demands of a ramp that works."""
