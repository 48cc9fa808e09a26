"""Loads, the ramp as a beam, and what its members carry."""
