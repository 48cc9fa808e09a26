"""Figures and sentences: how numbers with their units are written, and in which language people are told."""
