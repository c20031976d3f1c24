"""Named questions about records."""
