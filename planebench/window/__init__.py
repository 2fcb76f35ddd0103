"""The only place that knows Qt."""
