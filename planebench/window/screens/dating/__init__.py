"""When a tool was made: its evidence on a scale of years, and the reasons."""
