"""Photographs still to be taken across a batch."""
