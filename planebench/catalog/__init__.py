"""What is remembered: tables, originals, search, history, intake and backup."""
