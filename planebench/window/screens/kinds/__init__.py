"""Kinds of plane and their parts."""
