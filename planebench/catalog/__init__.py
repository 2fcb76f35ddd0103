"""What is remembered: tables, originals, search, history, import and backup."""
