"""A small scene with every primitive in it, awkward text, thirds of a millimetre. The folder is on the path for `dxf_boxes`."""

import sys
from pathlib import Path

import pytest

from elevgen.core.geometry import Rect
from elevgen.drawing.scene import (
    Block,
    BlockUse,
    Dimension,
    Fill,
    Layer,
    Line,
    Polyline,
    Role,
    Scene,
    Sheet,
    Symbol,
    Text,
    View,
    Window,
)

sys.path.insert(0, str(Path(__file__).parent))

BRICK = ((0.0, 0.0), (215.0, 0.0), (215.0, 65.0), (0.0, 65.0))
HOSTILE = "<b>&\"' ± ² é =1+1"


def layers() -> tuple[Layer, ...]:
    dashes = {Role.MOVEMENT_JOINT: "CENTER", Role.DPC: "DASHED"}
    return tuple(
        Layer(
            role, f"T-{role.upper()}", 7, (40 + 10 * n, 30, 30), 0.25, dashes.get(role, "CONTINUOUS"), role is not Role.VIEWPORT
        )
        for n, role in enumerate(Role)
    )


@pytest.fixture
def scene() -> Scene:
    block = Block("p1", (Fill(Role.TINT, BRICK, "clay"), Polyline(Role.UNIT, BRICK, True)))
    view = View(
        "W1/outer",
        "South, outer leaf",
        (
            Line(Role.OUTLINE, (0.0, 0.0), (4490.0, 0.0), "W1"),
            Polyline(Role.OUTLINE, ((0.0, 0.0), (0.0, 1000 / 3), (700 / 3, 1000 / 3)), False, "W1"),
            *(
                BlockUse(Role.UNIT, "p1", (225.0 * k, 10 + 75.0 * c), "W1/outer", f"course {c + 1}")
                for c in range(3)
                for k in range(20)
            ),
            Text(Role.TEXT, (100.0, 400.0), HOSTILE, 2.5, source="W1"),
            Text(Role.MARK, (2000.0, 400.0), "turned", 3.5, "centre", "middle", 90.0, True, "MJ1"),
            Dimension(Role.DIMENSION, (0.0, 0.0), (1347.5, 0.0), "x", -400.0, "1347.5", source="W1"),
            Dimension(Role.DIMENSION, (0.0, 0.0), (0.0, 225.0), "y", -400.0, "3 courses", source="W1"),
            Symbol(Role.TIE, "tie", (450.0, 75.0), 2.0, 0.0, "W1", "tie"),
            Symbol(Role.LEVEL, "level", (4490.0, 225.0), 3.0, 0.0, "W1", "level"),
        ),
        Rect(-600.0, -600.0, 4600.0, 700.0),
        20,
        (1000.0, 2000.0),
        "W1/outer",
    )
    sheet = Sheet(
        "S1",
        "W1 outer: 1/2",
        420.0,
        297.0,
        (Window("W1/outer", Rect(20.0, 150.0, 290.0, 220.0), (-600.0, -600.0), 20),),
        (
            Polyline(Role.FRAME, ((20.0, 10.0), (410.0, 10.0), (410.0, 287.0), (20.0, 287.0)), True),
            Line(Role.FRAME, (50.0, 40.0), (350.0, 40.0)),
            Text(Role.TEXT, (30.0, 60.0), "Sheet title é", 5.0, bold=True),
        ),
    )
    return Scene("Test walls", "2026-03-02", (view,), (sheet,), (block,), layers(), ("Caution: not a structural design.",))
