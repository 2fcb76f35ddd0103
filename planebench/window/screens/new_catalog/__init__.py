"""Starting a new catalog."""
