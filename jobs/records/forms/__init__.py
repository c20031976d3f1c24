"""What the office types about records, read into the facts the services take."""
