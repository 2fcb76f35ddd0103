"""What is shown before a catalog is open."""
