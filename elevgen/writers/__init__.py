"""One file per format; found by scanning this folder."""
