"""File formats that leave the house."""
