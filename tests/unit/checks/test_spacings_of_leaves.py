"""The spacing a leaf is held to, re-read from the rules: reinforced beds, parapets, free-standing walls; values of documents."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from elevgen.checks._spacings import greatest, usual
from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]
Lacking = Callable[..., Design]

UNITS = {
    "narrow": {"material": "clay", "length": 215, "height": 65, "width": 102.5},
    "dense": {"material": "dense_concrete", "length": 440, "height": 215, "width": 140},
    "dense_wide": {"material": "dense_concrete", "length": 440, "height": 215, "width": 190},
    "light": {"material": "lightweight_concrete", "length": 440, "height": 215, "width": 140},
    "aircrete_wide": {"material": "aircrete", "length": 440, "height": 215, "width": 215},
    "lime": {"material": "calcium_silicate", "length": 215, "height": 65, "width": 102.5},
    "ashlar": {"material": "stone", "length": 440, "height": 215, "width": 100},
}


def built(build: Build, unit: str, every: float | None = None, **more: Any) -> Design:
    leaf = {"zones": [{"unit": unit}]} | ({} if every is None else {"reinforced_every": every})
    wall = {"id": "A", "type": "garden", "start": [0, 0], "end": [13340, 0], "top": 4800} | more
    return build([wall], units=UNITS, leaves={"only": leaf}, wall_types={"garden": {"outer": "only"}})


def metres(design: Design) -> tuple[float | None, float | None]:
    (leaf,) = design.building.leaves
    held = usual(design, leaf), greatest(design, leaf)
    return tuple(None if spacing is None else spacing.number / 1000 for spacing in held)  # type: ignore[return-value]


@pytest.mark.parametrize(
    ("unit", "every", "spacing"),
    [
        pytest.param("narrow", None, (12, 15), id="SEPB-01, NHBC-01 clay"),
        pytest.param("narrow", 450, (15, 18), id="SEPB-01, DPCK-07 clay, beds at 450: lower table"),
        pytest.param("narrow", 300, (15, 18), id="SEPB-01 clay, beds at 300 count as 450"),
        pytest.param("narrow", 225, (18, 20), id="SEPB-01, DPCK-07 clay, beds at 225"),
        pytest.param("narrow", 451, (12, 15), id="beds further apart than 450 count for nothing"),
        pytest.param("dense", 450, (12, 9), id="DPCK-02, DPCK-06 dense block 140, beds at 450"),
        pytest.param("dense", 225, (14, 9), id="DPCK-02, DPCK-06 dense block 140, beds at 225"),
        pytest.param("dense_wide", 450, (14, 9), id="DPCK-03 over 140, beds at 450"),
        pytest.param("dense_wide", 225, (16, 9), id="DPCK-03 over 140, beds at 225"),
        pytest.param("light", 450, (10, 6), id="DPCK-04 lightweight block 140, beds at 450"),
        pytest.param("light", 225, (12, 6), id="DPCK-04 lightweight block 140, beds at 225"),
        pytest.param("aircrete_wide", 450, (12, None), id="DPCK-05 aircrete over 140, beds at 450"),
        pytest.param("aircrete_wide", 225, (14, None), id="DPCK-05 aircrete over 140, beds at 225"),
        pytest.param("lime", 450, (12, 9), id="DPCK-02 calcium silicate brick, beds at 450"),
        pytest.param("ashlar", 225, (6, None), id="SEPB-05 stone, no figure for reinforced beds"),
    ],
)
def test_reinforced_beds_lengthen_the_spacing(build: Build, unit: str, every: float | None, spacing: tuple[float, float]) -> None:
    """Structural Engineer's Pocket Book p.146 and Data Pack table 7.1, the lower of the two."""
    assert metres(built(build, unit, every)) == spacing


def test_a_parapet_has_half(build: Build, lacking: Lacking) -> None:
    """NHBC-05: 6 m of 12 in clay; and half of 15 for the greatest."""
    design = built(build, "narrow", stands="parapet")
    assert metres(design) == (6, 7.5)
    assert metres(built(build, "dense", stands="parapet")) == (3, 4.5)
    assert metres(lacking(design, "movement_joint.parapet.fraction")) == (12, 15)


def test_a_free_standing_wall_of_clay(build: Build, lacking: Lacking) -> None:
    """LYON-01: 7 to 8 m unrestrained; the lower end."""
    design = built(build, "narrow", stands="free_standing")
    assert metres(design)[0] == 7
    assert metres(lacking(design, "movement_joint.free_standing.spacing.clay"))[0] == 12


def test_a_note_follows_the_spacing_of_the_leaf(build: Build, found: Found) -> None:
    """13.34 m in clay with a door in it: too long, but not with beds reinforced at 450 mm; a parapet is held to half."""
    door = {"id": "D1", "kind": "door", "at": 7100, "width": 910, "sill": 0, "height": 2110}
    more = {"joints": [], "openings": [door]}
    assert len(found(built(build, "narrow", **more), "opening-as-joint")) == 1
    assert not found(built(build, "narrow", 450, **more), "opening-as-joint")
    (note,) = found(built(build, "narrow", stands="parapet", **more), "opening-as-joint")
    assert note.limit == 7500, "half of the greatest; 7.1 m and 5.33 m beside the door are within it"
    late = more | {"openings": [door | {"at": 7600}]}
    assert not found(built(build, "narrow", stands="parapet", **late), "opening-as-joint")
    middle = more | {"openings": [door | {"at": 5900, "width": 1510}]}
    (note,) = found(built(build, "narrow", stands="free_standing", **middle), "opening-as-joint")
    assert note.limit == 7000
    assert note.source is not None
    assert note.source.key == "movement_joint.free_standing.spacing.clay"
