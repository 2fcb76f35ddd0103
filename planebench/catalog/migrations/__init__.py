"""Steps by which older catalogs are brought up to date."""
