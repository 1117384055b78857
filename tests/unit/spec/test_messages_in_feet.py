"""What a message allows is said in feet and inches to somebody who wrote feet and inches, and in millimetres to others."""

from __future__ import annotations

import json

import pytest

from elevgen import pipeline
from elevgen.core.errors import SpecError
from elevgen.spec.load import parse_text


def faults(width: str | float, length: str | float = "22'") -> list[tuple[str, str]]:
    window = {"id": "V", "kind": "window", "at": 6096, "width": width, "sill": 600, "height": 900}
    spec = {
        "spec": 1,
        "leaves": {"a": {"zones": [{"unit": "brick_65"}]}},
        "wall_types": {"single": {"outer": "a"}},
        "walls": [{"id": "W", "type": "single", "start": [0, 0], "end": [length, 0], "top": 2400, "openings": [window]}],
    }
    with pytest.raises(SpecError) as refused:
        parse_text(json.dumps(spec), "given", pipeline.vocabulary())
    return [(fault.given, fault.allowed) for fault in refused.value.faults]


@pytest.mark.parametrize(
    ("width", "allowed"),
    [
        ("3' 4\"", "at most 2' 0\" (609.6 mm)"),
        ("40 in", "at most 2' 0\" (609.6 mm)"),
        (1016, "at most 609.6 mm"),
        ("1.016 m", "at most 609.6 mm"),
    ],
)
def test_a_limit_is_in_the_units_somebody_writes_in(width, allowed):
    assert [said for _, said in faults(width)] == [allowed]


def test_what_a_length_may_look_like_is_left_as_it_is():
    ((_, allowed),) = faults(600, "12 ft 3 and a bit")
    assert '"910 mm"' in allowed and "(910 mm)" not in allowed
