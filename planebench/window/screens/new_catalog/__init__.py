"""Starting a catalog of one's own."""
