"""Parts listed for the walls of the good spec."""

from copy import deepcopy

SOUTH = {
    "lintels": ["place", {"over": ["D1"], "leaf": "inner", "at": 1200, "length": "1.2 m", "kind": "concrete", "depth": 215}],
    "ties": [{"at": 450, "level": 300}, {"at": 900, "level": 750}],
    "tie_length": 225,
    "ground": [[0, -150], [12140, -300]],
}
EAST = {  # 7300 long, 0 to 2550 high
    "reinforcement": [{"level": 450, "at": 100, "length": 6000}],
    "damp_courses": ["place", {"level": 2475, "at": 0, "length": 7300}],
    "trays": [{"level": 1500, "at": 1000, "length": 3000, "stop_ends": 1}],
    "abutments": [{"line": [[1000, 1200], [3500, 1900]]}],
    "loads": [{"level": 2400, "at": 0, "length": 7000, "load": 4.2}],
}


def listed(spec):
    """The good spec with parts listed for two of its walls."""
    spec = deepcopy(spec)
    spec["walls"][0].update(deepcopy(SOUTH))
    spec["walls"][1].update(deepcopy(EAST))
    return spec
