"""The views of the ramp in hand."""
