"""Gauge for the heights, set-out for the lengths, and the pieces they need."""
