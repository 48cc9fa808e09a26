"""The sheet on which a Picture is painted."""
