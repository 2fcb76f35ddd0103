"""The same jobs without a window: one module a command."""
