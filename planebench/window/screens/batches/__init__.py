"""All purchases, a row each."""
