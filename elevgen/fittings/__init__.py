"""What goes into the wall besides units and mortar."""
