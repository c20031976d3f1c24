"""Named questions about what the crew is given and what it writes down."""
