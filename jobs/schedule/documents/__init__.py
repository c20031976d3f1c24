"""The wall chart on paper, and the calendar a phone reads."""
