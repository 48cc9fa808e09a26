"""Ink without a format."""
