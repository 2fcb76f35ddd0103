"""A catalog that cannot be opened: what happened and what to do."""
