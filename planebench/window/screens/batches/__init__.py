"""All purchases, one row each."""
