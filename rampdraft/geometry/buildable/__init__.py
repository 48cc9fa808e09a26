"""What cannot be built, and why: values that contradict each other."""
