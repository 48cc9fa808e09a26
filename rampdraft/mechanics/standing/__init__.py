"""The ramp put down on the ground."""
