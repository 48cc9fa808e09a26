"""What will be printed, page by page."""
