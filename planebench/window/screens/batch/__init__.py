"""The tools of a batch, a row each, with what is missing next."""
