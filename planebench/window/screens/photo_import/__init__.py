"""Adding photographs: what to import, its progress, which tool each shows."""
