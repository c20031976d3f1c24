"""Named questions about crews and days."""
