"""The work on one photograph: seeing, pins, outlines, what is kept and lost, lengths."""
