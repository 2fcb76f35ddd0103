"""One module a revision of the tables."""
