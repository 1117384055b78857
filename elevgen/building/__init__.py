"""Absolute geometry: faces, leaves, corners, openings, and the runs of connected masonry."""
