"""A cavity wall with a door and a window, for the checks of what is fitted to it."""

from __future__ import annotations

from typing import Any

DOOR = {"id": "D1", "kind": "door", "at": 1347.5, "width": 910, "sill": 0, "height": 2110}
WINDOW = {"id": "V1", "kind": "window", "at": 4047.5, "width": 1810, "sill": 900, "height": 1210}
WALL: dict[str, Any] = {"id": "A", "type": "cavity", "start": [0, 0], "end": [8090, 0], "top": 2700, "openings": [DOOR, WINDOW]}
BRICK = {"zones": [{"unit": "brick_65"}]}
