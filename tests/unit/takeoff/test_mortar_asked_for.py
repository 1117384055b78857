"""Mortar and pointing as the spec asks for them: described, apart in the bill, on drawings, and named where they are not said."""

from __future__ import annotations

from typing import Any

import pytest

from elevgen.drawing.elevation import seen
from elevgen.drawing.facts import leaf_facts
from elevgen.result import Design
from elevgen.takeoff.measure import measure
from elevgen.takeoff.mortar import Asked, asked_of
from elevgen.writers._xlsx_bill import unsaid
from elevgen.writers.json import document

WALLS = [{"start": [0, 0], "end": [4490, 0], "top": 750}, {"start": [0, 3000], "end": [2240, 3000], "top": 1050, "type": "other"}]
BRICK = {"zones": [{"unit": "brick_65"}]}


@pytest.fixture
def walls_of(made: Any) -> Any:
    """A function: two walls of brick that do not touch, what is asked of the leaf of each."""

    def designed(first: dict[str, str], second: dict[str, str], **more: Any) -> Design:
        leaves = {"one": BRICK | first, "two": BRICK | second}
        walls = [WALLS[0] | {"type": "half"}, WALLS[1] | more]
        return made(walls, leaves, wall_types={"half": {"outer": "one"}, "other": {"outer": "two"}})

    return designed


def codes(design: Design, begun: str) -> dict[str, tuple[str, float]]:
    return {q.code: (q.item, q.net) for q in measure(design).quantities if q.code.startswith(begun)}


def test_walling_in_another_mortar_or_pointed_otherwise_is_another_item(walls_of: Any) -> None:
    plain = codes(walls_of({}, {}), "WALL-")
    assert len(plain) == 1
    made = codes(walls_of({"mortar": "M4", "pointing": "flush"}, {"mortar": "M6"}), "WALL-")
    (code,) = plain
    assert set(made) == {f"{code}/M4/FLUSH", f"{code}/M6"}
    assert ", mortar M4, pointing flush, leaf 102.5 mm thick" in made[f"{code}/M4/FLUSH"][0]
    assert made[f"{code}/M4/FLUSH"][1] == pytest.approx(4.49 * 0.75)
    assert made[f"{code}/M6"][1] == pytest.approx(2.24 * 1.05)


def test_mortar_is_bought_by_its_class(walls_of: Any) -> None:
    together = codes(walls_of({"mortar": "M4"}, {"mortar": "M4", "pointing": "flush"}), "MORTAR-")
    assert list(together) == ["MORTAR-M3/M4"] and together["MORTAR-M3/M4"][0].startswith("Mortar M4 in beds")
    assert set(codes(walls_of({"mortar": "M4"}, {}), "MORTAR-")) == {"MORTAR-M3/M4", "MORTAR-M3"}
    orders = {order.code for order in measure(walls_of({"mortar": "1:1:6"}, {"mortar": "M4"})).orders}
    assert {"MORTAR-M3/1-1-6", "MORTAR-M3/M4"} <= orders and "MORTAR-M3" not in orders


@pytest.mark.parametrize(
    ("first", "second", "ends"),
    [
        ({"mortar": "M4"}, {"mortar": "m4"}, ("/M4", "/M4-2")),
        ({"mortar": "M4"}, {"pointing": "M4"}, ("/M4", "/-/M4")),
        ({"mortar": "-"}, {"pointing": "x"}, ("/X", "/-/X-2")),
        ({"mortar": "M4", "pointing": "M4"}, {}, ("/M4/M4", "")),
    ],
)
def test_no_two_things_asked_for_share_a_code(walls_of: Any, first: Any, second: Any, ends: tuple[str, str]) -> None:
    asked = asked_of(walls_of(first, second).building)
    assert tuple(a.walling for a in asked.values()) == ends
    assert asked["W1/outer"] == Asked(ends[0], "" if "mortar" not in first else "/" + ends[0].split("/")[1])


def test_drawings_and_files_say_it(walls_of: Any) -> None:
    design = walls_of({"mortar": "M4", "pointing": "bucket handle"}, {})
    one, two = leaf_facts(design)
    assert "stretcher bond, mortar M4, pointing bucket handle. " in seen(one, 50)
    assert "mortar" not in seen(two, 50)
    said = [(leaf["mortar"], leaf["pointing"]) for leaf in document(design, measure(design))["leaves"]]
    assert said == [("M4", "bucket handle"), (None, None)]


@pytest.mark.parametrize(
    ("first", "second", "more", "told"),
    [
        ({}, {}, {}, ["Mortar class and pointing are not in the spec: agree before pricing."]),
        ({"mortar": "M4"}, {}, {}, ["Mortar class and pointing are not in the spec for every leaf: agree before pricing."]),
        ({"mortar": "M4"}, {"mortar": "M4"}, {}, ["Pointing is not in the spec: agree before pricing."]),
        ({"mortar": "M4", "pointing": "flush"}, {"mortar": "M4", "finish": "render"}, {}, []),
        ({"mortar": "M4", "pointing": "flush"}, {}, {"existing": True}, []),
    ],
)
def test_what_is_not_said_is_named_before_pricing(walls_of: Any, first: Any, second: Any, more: Any, told: list[str]) -> None:
    assert list(unsaid(walls_of(first, second, **more))) == told
