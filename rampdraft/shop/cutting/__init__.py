"""What is sawn from which stock length."""
