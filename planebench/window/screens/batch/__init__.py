"""The tools of a batch, one row each, with the next step."""
