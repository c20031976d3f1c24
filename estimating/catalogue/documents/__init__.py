"""Drawings of the catalogue."""
