"""What was put in the bin, and putting it back."""
