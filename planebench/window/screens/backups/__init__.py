"""Backups, restoring, and checking the catalog."""
