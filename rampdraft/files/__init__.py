"""How a design is kept."""
