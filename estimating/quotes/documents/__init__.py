"""What a quote says: its words, its differences from the one before, its papers."""
