"""Sheets, what comes back from them, defects and photos."""
