"""Measurements, apart from pass or fail."""
