"""Piers are named as long as their units are not laid. Common practice, no source."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from elevgen.result import Design, Finding

Build = Callable[..., Design]
Found = Callable[..., list[Finding]]

WALL = {"id": "G", "type": "garden", "start": [0, 0], "end": [7190, 0], "base": 0, "top": 1200}


@pytest.mark.parametrize(
    ("features", "severity", "words"),
    [
        ([{"kind": "pier", "at": 1460}, {"kind": "pier", "at": 5285}], "note", "2 piers at 1460 and 5285"),
        ([{"kind": "pier", "at": 3597.5}], "note", "1 pier at 3597.5"),
        ([{"kind": "downpipe", "at": 3597.5}], "pass", "no piers"),
    ],
)
def test_every_pier_of_a_wall_is_named(build: Build, found: Found, features: list[object], severity: str, words: str) -> None:
    (finding,) = found(build([WALL | {"features": features}]), "pier-units", everything=True)
    assert finding.severity == severity
    assert words in finding.text
    assert finding.walls == (("G",) if severity == "note" else ())
