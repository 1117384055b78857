"""One file per bond pattern; found by scanning this folder."""
