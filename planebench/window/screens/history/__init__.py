"""Who changed what when."""
