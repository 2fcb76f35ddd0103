"""What a condition sheet says, and how it looks as pages."""
