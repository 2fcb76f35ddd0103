"""A photograph as found and one finished, laid on each other: what changed."""
