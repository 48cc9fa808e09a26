"""What rules limit: each quantity, how it is measured and worked."""
