"""What can be taken hold of on a drawing."""
