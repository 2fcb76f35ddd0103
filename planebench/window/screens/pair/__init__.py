"""A pair of photographs, before and after the work, aligned and compared."""
