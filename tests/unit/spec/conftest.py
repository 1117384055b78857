"""A good spec, and the words it may use. The folder is on the path so that tests can import `listed`."""

import sys
from pathlib import Path

import pytest

from elevgen.spec.vocabulary import Vocabulary

sys.path.insert(0, str(Path(__file__).parent))

GOOD = """{
  "spec": 1,
  "project": {"title": "Kiln shed", "number": "K-7", "date": "2026-02-28"},
  "rules": "uk",
  "overrides": [{"rule": "tie.spacing.vertical", "value": 300, "unit": "mm", "reason": "exposed", "by": "engineer"}],
  "waivers": [{"finding": "short-return", "where": "W2", "reason": "tied to steel", "by": "engineer"}],
  "units": {"facing": {"material": "clay", "length": 215, "height": 65, "width": 102.5, "joint": "3/8 in"}},
  "leaves": {
    "outside": {"zones": [{"unit": "facing", "to": 600}, {"unit": "dense_block_100"}], "bond": "stretcher"},
    "inside": {"zones": [{"unit": "aircrete_block_100"}]}
  },
  "wall_types": {
    "cavity": {"outer": "outside", "inner": "inside", "cavity": 100},
    "partition": {"outer": "inside"}
  },
  "walls": [
    {"id": "W1", "name": "South", "type": "cavity", "start": [0, 0], "end": ["12.14 m", 0],
     "base": [[0, -150], [5000, -150], [5000, -375], [12140, -375]],
     "top": [[0, 2700], [4000, 3900], [12140, 2550]],
     "openings": [
       {"id": "D1", "kind": "door", "at": 1347.5, "width": 910, "sill": 0, "height": 2100},
       {"id": "O1", "kind": "window", "at": 6000, "width": 1200, "sill": 900, "height": 1000},
       {"id": "O2", "at": 7200, "width": 1800, "sill": 900, "height": 1050}
     ],
     "features": [{"kind": "downpipe", "at": 12000}],
     "joints": [{"at": 6075, "leaf": "outer"}, {"at": 9300, "leaf": "inner", "width": 12}]},
    {"id": "W2", "type": "cavity", "start": [12140, 0], "end": [12140, 7300], "top": 2550, "joints": "place"},
    {"id": "P1", "type": "partition", "line": "centre", "start": [12140, 3000], "end": [4000, 3000], "top": "8' 4 3/8\\""}
  ],
  "junctions": [{"walls": ["W2", "P1"], "leaf": "inner", "connection": "tied"}],
  "sheet": {"size": "A3", "scale": 50, "layers": "ncs"},
  "measurement": {"rules": "net", "waste": {"units": 7.5}}
}
"""

VOCABULARY = Vocabulary(
    rule_sets=("au", "uk"),
    units={
        "uk": frozenset({"brick_65", "dense_block_100", "dense_block_140", "aircrete_block_100"}),
        "au": frozenset({"brick_76", "concrete_block_190"}),
    },
    rule_keys=frozenset({"tie.spacing.vertical", "tie.spacing.horizontal", "waste.units", "waste.mortar", "sealant.depth.min"}),
    bonds=("stretcher", "stack"),
    layer_tables=("ncs", "plain"),
    finding_codes=("short-return", "panel-length"),
    measurement_rules=("net", "nrm2-like"),
)


@pytest.fixture(scope="session")
def good() -> str:
    return GOOD


@pytest.fixture(scope="session")
def vocabulary() -> Vocabulary:
    return VOCABULARY
