"""Limits from standards, and what a design makes of them."""
