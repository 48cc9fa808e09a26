"""What hands must do along the fold."""
