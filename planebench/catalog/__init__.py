"""What is remembered: tables, vault, search, history, intake and backup."""
