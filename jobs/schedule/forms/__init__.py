"""What is typed about crews, days and moves."""
