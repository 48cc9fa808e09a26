"""What the program begins with: a survey, a design of one's own, or a sample."""
