"""The ramp as a solid: prisms across, painted from the back to the front as one looks at them."""
