"""Runs that somebody believed were broken by a door, a window or a corner; each with its repair."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]

LONG, SHORT = 13340.0, 4265.0
DOOR = {"id": "D1", "kind": "door", "at": 7100, "width": 910, "sill": 0, "height": 2110}
WINDOW = {"id": "V1", "kind": "window", "at": 3072.5, "width": 1810, "sill": 900, "height": 1210}


def wall(wall_id: str, start: tuple[float, float], end: tuple[float, float], **more: Any) -> dict[str, Any]:
    """A garden wall with no joints, and none wanted."""
    return {"id": wall_id, "type": "garden", "start": list(start), "end": list(end), "top": 4800, "joints": []} | more


STRAIGHT = wall("A", (0, 0), (LONG, 0), openings=[DOOR])
CORNER = [STRAIGHT, wall("B", (LONG, 0), (LONG, SHORT))]


def test_a_door_counted_on_as_a_joint_is_named_with_what_it_leaves(build: Build, found: Found) -> None:
    """13.34 m of clay, 7.1 m and 5.33 m beside the door: over the usual 12 m though every part is within it."""
    (note,) = found(build([STRAIGHT]), "opening-as-joint")
    assert (note.severity, note.openings, note.walls, note.leaves) == ("note", ("D1",), ("A",), ("A/outer",))
    assert (note.measured, note.limit) == (pytest.approx(LONG), 12000)
    assert note.text.startswith(
        "D1 is no joint: the masonry over it is in one piece. From opening to opening every part is within"
    )
    assert "the longest is 7.10 m, in A" in note.text
    assert [f.severity for f in found(build([STRAIGHT]), "joint-spacing")] == ["warn"], "the length itself is judged once, there"


def test_its_repair_is_a_joint(build: Build, found: Found) -> None:
    (passed,) = found(build([STRAIGHT], {"A/outer": [6600.0]}), "opening-as-joint", everything=True)
    assert passed.severity == "pass"


def test_a_window_leaves_masonry_over_and_under_it(build: Build, found: Found) -> None:
    (note,) = found(build([wall("A", (0, 0), (LONG, 0), openings=[DOOR, WINDOW])]), "opening-as-joint")
    assert note.openings == ("V1", "D1"), "as they come along the wall"
    assert note.text.startswith("V1 and D1 are no joints: the masonry over and under them is in one piece.")


def test_a_wall_with_ribbon_windows(build: Build, found: Found) -> None:
    """Seventeen windows with piers of 450 mm: no pier is too long, the wall is."""
    ribbon = [WINDOW | {"id": f"V{n}", "at": 450 + 2260 * n} for n in range(17)]
    (note,) = found(build([wall("A", (0, 0), (40000, 0), openings=ribbon)]), "opening-as-joint")
    assert note.openings == tuple(f"V{n}" for n in range(17))
    assert note.text.startswith("the 17 openings V0 to V16 are no joints: the masonry over and under them is in one piece.")
    assert note.text.endswith("one piece of 40.00 m; it needs movement joints clear of the openings")


def test_openings_that_leave_a_part_too_long_were_not_counted_on(build: Build, found: Found) -> None:
    """From the door's right reveal to the end 12.01 m: too long however it is read, and joint-spacing says so."""
    late = DOOR | {"at": 420}
    assert not found(build([wall("A", (0, 0), (LONG, 0), openings=[late])]), "opening-as-joint")
    nearly = DOOR | {"at": 430.5}
    (note,) = found(build([wall("A", (0, 0), (LONG, 0), openings=[nearly])]), "opening-as-joint")
    assert "12.00 m" in note.text


def test_a_corner_and_a_door_are_both_told(build: Build, found: Found) -> None:
    """17.605 m round the corner, over the greatest 15 m; within 15 m from A's start to the corner, so the corner alone did it."""
    (note,) = found(build(CORNER), "opening-as-joint")
    assert (note.openings, note.walls, note.limit) == ((), ("A", "B"), 15000)
    assert "every straight part is within 15.00 m" in note.text
    assert "a corner or a tied end is no joint" in note.text
    longer = [wall("A", (0, 0), (15610, 0), openings=[DOOR]), wall("B", (15610, 0), (15610, SHORT))]
    (both,) = found(build(longer), "opening-as-joint")
    assert both.openings == ("D1",)
    assert "A and B are bonded or tied together, one piece of 19.88 m" in both.text


def test_a_nine_metre_wall_tied_into_long_walls_at_both_ends(build: Build, found: Found) -> None:
    """A naive reading says that none of the three needs a joint: 11 m, 9 m and 11.5 m of clay, usual 12 m.

    The longest way: 6.4 m of A from its far end, 9 m of B less what stands in the others, 7.1 m of C.
    """
    walls = [
        wall("A", (-6400, 0), (4600, 0)),
        wall("B", (0, 102.5), (0, 9102.5)),
        wall("C", (4400, 9102.5), (-7100, 9102.5)),
    ]
    (note,) = found(build(walls), "opening-as-joint")
    assert (note.openings, note.walls) == ((), ("A", "B", "C")) or note.walls == ("C", "B", "A")
    assert note.measured == pytest.approx(22500, abs=300)
    assert "every straight part is within 15.00 m" in note.text
    (fault,) = found(build(walls), "joint-spacing")
    assert (fault.severity, fault.where, fault.measured) == ("fail", note.where, note.measured)
    parted = [{"walls": [a, "B"], "connection": "jointed"} for a in "AC"]
    assert not found(build(walls, junctions=parted), "opening-as-joint")
    assert not found(build(walls, {"B/outer": [4500.0]}), "opening-as-joint")


def test_where_joints_are_placed_nothing_was_counted_on(build: Build, found: Found) -> None:
    """One wall with its joints given is enough for the whole piece."""
    assert not found(build([STRAIGHT | {"joints": "place"}]), "opening-as-joint")
    assert not found(build([w | {"joints": "place"} for w in CORNER]), "opening-as-joint")
    assert found(build([STRAIGHT | {"joints": "place"}, CORNER[1]]), "opening-as-joint")


def test_a_gate_from_base_to_top_is_a_break(build: Build, found: Found) -> None:
    """No masonry over it and none under it; 100 mm over it and there is."""
    gate = {"id": "G1", "kind": "opening", "at": 7100, "width": 1200, "sill": 0, "height": 1800}
    assert not found(build([wall("A", (0, 0), (LONG, 0), top=1800, openings=[gate])]), "opening-as-joint")
    assert found(build([wall("A", (0, 0), (LONG, 0), top=1900, openings=[gate])]), "opening-as-joint")


def test_a_very_wide_gate_is_no_masonry(build: Build, found: Found) -> None:
    """16 m of gate between two walls of 4 m and 5 m."""
    gate = {"id": "G1", "kind": "opening", "at": 4000, "width": 16000, "sill": 0, "height": 1800}
    design = build([wall("A", (0, 0), (25000, 0), top=1800, openings=[gate])])
    assert [f.severity for f in found(design, "opening-as-joint", everything=True)] == ["pass"]


def test_each_leaf_of_a_cavity_wall_is_told_by_its_own_material(build: Build, found: Found) -> None:
    """Blocks of aircrete: 6 m and no more, 4.1 m beside the door; bricks: 12 m."""
    design = build([wall("A", (0, 0), (9000, 0), type="cavity", openings=[DOOR | {"at": 4000}])])
    (note,) = found(design, "opening-as-joint")
    assert (note.leaves, note.limit) == (("A/inner",), 6000)
    assert not found(
        build([wall("A", (0, 0), (9000, 0), type="cavity", openings=[DOOR | {"at": 4000}])], {"A/inner": [3300.0]}),
        "opening-as-joint",
    )


def test_without_a_spacing_it_is_not_checked(build: Build, found: Found, lacking: Callable[..., Design]) -> None:
    bare = lacking(build([STRAIGHT]), "movement_joint.spacing.normal.clay")
    assert [f.severity for f in found(bare, "opening-as-joint", everything=True)] == ["not_checked"]
    placed = lacking(build([STRAIGHT | {"joints": "place"}]), "movement_joint.spacing.normal.clay")
    assert [f.severity for f in found(placed, "opening-as-joint", everything=True)] == ["pass"], "nobody counted on anything"
    looser = lacking(build(CORNER), "movement_joint.spacing.limit.clay")
    (note,) = found(looser, "opening-as-joint")
    assert (note.limit, note.openings) == (12000, ("D1",)), "held to the usual spacing where there is no other"


def test_it_is_held_to_the_spacing_of_its_leaf(build: Build, found: Found) -> None:
    """Longer where beds are reinforced: 15 m. Shorter in a parapet: half of 15 m. A free-standing wall of clay: 7 m."""
    reinforced = {"brick": {"zones": [{"unit": "brick_65"}], "reinforced_every": 450}}
    assert not found(build([STRAIGHT], leaves=reinforced, wall_types={"garden": {"outer": "brick"}}), "opening-as-joint")
    for at, limit in ((7100, 7500), (7600, None)):
        notes = found(build([STRAIGHT | {"stands": "parapet", "openings": [DOOR | {"at": at}]}]), "opening-as-joint")
        assert [note.limit for note in notes] == ([limit] if limit else [])
    middle = STRAIGHT | {"stands": "free_standing", "openings": [DOOR | {"at": 5900, "width": 1510}]}
    (note,) = found(build([middle]), "opening-as-joint")
    assert note.limit == 7000
    assert note.source is not None
    assert note.source.key == "movement_joint.free_standing.spacing.clay"
