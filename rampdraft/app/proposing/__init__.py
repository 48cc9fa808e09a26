"""The survey that ramps are proposed for, and what is proposed, side by side."""
