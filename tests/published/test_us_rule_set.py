"""What the us rule set says each document says: value in the unit it is printed in, and how it is known.

Bibliography: as cited beside each row; check-values TN18A-03 to -06, TEK10-01, -02, TIE-02 to -04, TMS-01, -02, TEK17-02, RB-01.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.rules.book import RuleBook
from elevgen.rules.loader import load_book

Carried = Callable[..., None]
IN, FT, SF = 25.4, 304.8, 1 / 0.3048**2
PER_10_FT = 25.4 / 3.048
SPACING, LAP = "movement_joint.spacing", "bed_reinforcement.lap"
DEFAULTS = [
    # key, printed value, mm or the key's own unit to one of the printed, document, status
    (f"{SPACING}.normal.clay", 25, FT, "BIA Technical Note 18A", "read"),
    (f"{SPACING}.with_openings.clay", 20, FT, "BIA Technical Note 18A", "read"),
    ("movement_joint.corner.within", 10, FT, "BIA Technical Note 18A", "read"),
    ("movement_joint.parapet.spacing.clay", 15, FT, "BIA Technical Note 18A", "read"),
    ("movement_joint.parapet.reinforced_every", 8, IN, "BIA Technical Note 18A", "read"),
    ("sealant.movement_capability", 50, 1, "BIA Technical Note 18A", "read"),
    ("movement.moisture.high.clay", 0.0005, 1000, "BIA Technical Note 18", "read"),
    ("movement.moisture.low.clay", 0.0003, 1000, "TM 5-809-3", "read"),
    ("movement.thermal.high.clay", 4.0e-6, 1800, "BIA Technical Note 18", "read"),
    ("movement.temperature_range", 100, 5 / 9, "BIA Technical Note 18 on a trade web page", "quoted"),
    (f"{SPACING}.normal.dense_concrete", 25, FT, "TEK 10-2B", "read"),
    ("movement_joint.panel_ratio.dense_concrete", 1.5, 1, "TEK 10-2B", "read"),
    (f"{SPACING}.steel.dense_concrete", 0.025, IN**2 / 0.3048, "TEK 10-2B", "read"),
    (f"{SPACING}.low_units.dense_concrete", 20, FT, "TEK 10-02D", "quoted"),
    ("movement_joint.at_opening.both_sides.dense_concrete", 6, FT, "TEK 10-2B", "read"),
    ("movement_joint.at_opening.one_side.dense_concrete", 0, 1, "TEK 10-2, from memory", "memory"),
    ("movement_joint.free_standing.spacing.clay", 20, FT, "Beall, Masonry and Concrete", "read"),
    ("movement_joint.width.nominal.clay", 0.5, IN, "Beall, Masonry and Concrete", "read"),
    (LAP, 8, IN, "TMS 602", "quoted"),
    ("bed_reinforcement.cover", 0.625, IN, "ACI 530.1 on an engineers' forum", "quoted"),
    ("bed_reinforcement.reach", 24, IN, "NCMA TEK notes, from memory", "memory"),
    ("bed_reinforcement.wire.diameter", 0.148, IN, "wire sizes of ASTM, from memory", "memory"),
    ("bed_reinforcement.development.min", 6, IN, "2003 IBC in TEK 12-6", "read"),
    ("tie.density", 1 / 2.67, SF, "IRC", "quoted"),
    ("tie.spacing.horizontal", 32, IN, "TMS 402, older, on an inspectors' forum", "quoted"),
    ("tie.spacing.vertical", 18, IN, "TMS 402, older, on an inspectors' forum", "quoted"),
    ("tie.edge.distance", 12, IN, "model code text, City of Lake Forest, Illinois", "read"),
    ("tie.edge.vertical", 36, IN, "model code text, City of Lake Forest, Illinois", "read"),
    ("tie.embedment", 1.5, IN, "TMS 402", "quoted"),
    ("tie.cover", 0.625, IN, "TMS 402", "quoted"),
    ("bond.lap.fraction", 0.25, 1, "ACI 530-99, in Masonry Construction magazine", "quoted"),
    ("bond.stack.bed_spacing", 18, IN, "ACI 530-99, in Masonry Construction magazine", "quoted"),
    ("bed.tolerance", 0.125, IN, "TMS 602", "quoted"),
    ("joint.nominal", 0.375, IN, "TMS 602", "quoted"),
    ("tolerance.level.per_metre", 0.25, PER_10_FT, "TMS 602", "quoted"),
    ("tolerance.level.beyond", 0.5, IN, "TMS 602", "quoted"),
    ("tolerance.plumb.per_metre", 0.25, PER_10_FT, "TMS 602", "quoted"),
    ("tolerance.plumb.beyond", 0.375, IN, "TMS 602", "quoted"),
    ("weep.spacing", 24, IN, "BIA Technical Note 28, in Masonry magazine", "read"),
    ("lintel.bearing.long", 4, IN, "IRC in Modern Masonry", "quoted"),
    ("lintel.load.arching.above_apex", 8, IN, "TEK 17-1B", "read"),
    ("lintel.load.arching.bearing", 4, IN, "TEK 17-1B", "read"),
    ("thumb.units.half_brick", 6.75, SF, "trade web pages", "quoted"),
    ("thumb.units.block", 1.125, SF, "Masonry magazine", "read"),
    ("thumb.mortar.half_brick", 5.5, 0.3048 / 100, "BIA Technical Note 10, from memory", "memory"),
    ("thumb.mortar.thousand.half_brick", 8.1, 0.3048**3, "BIA Technical Note 10, from memory", "memory"),
]
OTHERS = [
    (LAP, 6, IN, "TMS 602", "quoted"),
    (LAP, 6, IN, "TEK 12-6", "read"),
    (LAP, 12, IN, "UBC, in Masonry Construction magazine", "quoted"),
    ("tie.density", 3 / 8, SF, "BIA Technical Note 28, in Masonry magazine", "read"),
    ("tie.density", 4 / 13, SF, "BIA Technical Note 28, in Masonry magazine", "read"),
    ("tie.density", 1 / 4.5, SF, "model code text, City of Lake Forest, Illinois", "read"),
    ("tie.embedment", 1.75, IN, "BIA Technical Note 44B, in Masonry Construction magazine", "quoted"),
    ("tolerance.plumb.beyond", 0.5, IN, "TMS 602", "quoted"),
    ("sealant.movement_capability", 25, 1, "BIA Technical Note 18A", "read"),
    ("movement.temperature_range", 130, 5 / 9, "Cornell University, ARCH 262", "read"),
    ("movement.temperature_range", 150, 5 / 9, "Construction Waterproofing Handbook", "read"),
    ("weep.spacing", 33, IN, "TMS 12, in Masonry magazine", "quoted"),
    ("movement_joint.tolerance", 3 / 16, IN, "Cornell University, ARCH 262", "read"),
]


CALLED = {IN: "in", FT: "ft", SF: "to the sq ft", PER_10_FT: "in in 10 ft", 5 / 9: "degF", 1800: "/degF", 1000: ""}
CALLED |= {IN**2 / 0.3048: "in2/ft", 0.3048 / 100: "cu ft to 100 sq ft", 0.3048**3: "cu ft to the thousand"}


@pytest.fixture(scope="module")
def us() -> RuleBook:
    return load_book("us")


@pytest.mark.parametrize(("key", "printed", "each", "document", "status"), DEFAULTS)
def test_defaults_some_from_memory(
    us: RuleBook, carried: Carried, key: str, printed: float, each: float, document: str, status: str
) -> None:
    assert us.get(key).document == document
    carried(document, key, printed, status, country="us", each=each, unit=CALLED.get(each))


@pytest.mark.parametrize(("key", "printed", "each", "document", "status"), OTHERS)
def test_other_figures(us: RuleBook, carried: Carried, key: str, printed: float, each: float, document: str, status: str) -> None:
    assert us.alternatives[key]
    carried(document, key, printed, status, country="us", each=each, unit=CALLED.get(each))


def test_corners_of_clay_and_of_concrete(us: RuleBook) -> None:
    assert us.get("movement_joint.corner.kind").value == "one_side_within"
    assert us.get("movement_joint.corner.kind.dense_concrete").value == "half_spacing_each_side"
    assert us.get("movement_joint.corner.fraction").number == 0.5
