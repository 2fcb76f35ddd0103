"""Backups, restoring, and looking the catalog over."""
