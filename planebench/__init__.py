"""A desktop catalog for people who restore and sell antique hand planes."""

__version__ = "0.1.0"
