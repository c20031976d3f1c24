"""What records put on paper and into drawings."""
