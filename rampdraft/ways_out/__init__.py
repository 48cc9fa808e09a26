"""What single change would cure a check that fails, and what else that change does."""
