"""One scene for every format: primitives, layers, elevations, plan, setting-out sheets."""
