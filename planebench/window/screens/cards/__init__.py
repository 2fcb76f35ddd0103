"""Scale cards to photograph with tools, and tags for small parts."""
