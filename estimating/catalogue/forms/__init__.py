"""What is typed into the catalogue, checked at its field."""
