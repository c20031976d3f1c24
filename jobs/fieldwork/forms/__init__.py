"""Reading what the crew typed."""
