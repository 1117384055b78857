"""One file per check; each re-measures the design and yields findings."""
