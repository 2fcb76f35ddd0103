"""The choices of the catalog and of this machine."""
