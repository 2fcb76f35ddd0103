"""The bin: deleted items, and restoring them."""
