"""Taking photographs in: what to take, how far it is, which tool each shows."""
