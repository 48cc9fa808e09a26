"""What a design is."""
