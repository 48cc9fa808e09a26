"""What is changed where a check fails: a function a rule of the drawing board."""
