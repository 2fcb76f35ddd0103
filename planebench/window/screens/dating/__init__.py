"""When a tool was made: its signs on one scale of years, and the reasons."""
