"""What holds a floating dock in place: loads, chains, anchors, and where the dock lies under them. Preliminary."""
