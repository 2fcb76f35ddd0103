"""Scale cards to lay beside tools, and tags for tubs of their parts."""
