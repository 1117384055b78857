"""What a moved opening is in the spec: a length as the spec's writer writes them."""

from __future__ import annotations

from json import loads

import pytest

from elevgen.core.figures import figures
from elevgen.core.measures import parse_length
from elevgen.joints.remedies import _as_given, _move
from elevgen.spec.models import OpeningModel

WINDOW = OpeningModel.model_validate(
    {"id": "V1", "kind": "window", "at": "23' 3 5/8\"", "width": "4'", "sill": 0, "height": "4'"}
)


@pytest.mark.parametrize(
    ("by", "words", "line"), [(3 * 25.4, '3" to the right', '"23\' 6 5/8\\""'), (-25.4, '1" to the left', '"23\' 2 5/8\\""')]
)
def test_an_opening_moved_in_feet(by: float, words: str, line: str) -> None:
    remedy = _move(figures("feet"), (WINDOW,), by)
    assert words in remedy.words
    assert remedy.what == (f"openings.V1.at = {line}",)


def test_what_no_sixteenth_says_stays_in_millimetres() -> None:
    feet = figures("feet")
    assert _as_given(feet, 7100.0) == "7100"
    assert parse_length(loads(_as_given(feet, 7112.0))) == 7112.0
    assert _as_given(figures("mm"), 7112.0) == "7112"
