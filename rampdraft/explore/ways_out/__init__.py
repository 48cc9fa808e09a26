"""What single change of a value just cures a failing check."""
