"""What is demanded of the carrier on its supports, by subject: standing, tipping, load left, turning."""
