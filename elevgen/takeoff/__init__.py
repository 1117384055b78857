"""What the design takes: measured quantities and the order list, kept apart."""
