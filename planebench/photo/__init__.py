"""Pixels in, arrays and small frozen values out; no Qt and no database."""
