"""Measured quantities and the order list."""
