"""The command line, without Qt."""
