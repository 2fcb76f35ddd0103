"""A folder a screen, each a widget beside its model and its verbs."""
