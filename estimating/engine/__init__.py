"""A dock spec in, a priced design out. Pure Python: spec -> design -> takeoff -> labour -> price."""
