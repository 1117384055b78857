"""A corner of stack bond in units as wide as they are long was no refusal but a crash: nothing is left beyond a return."""

from __future__ import annotations

import elevgen
from elevgen.spec.models import Spec


def test_square_units_turn_a_corner_in_stack_bond() -> None:
    unit = {"material": "dense_concrete", "length": 300, "height": 190, "width": 300}
    walls = [
        {"id": "A", "type": "t", "start": [0, 0], "end": [3090, 0], "base": 0, "top": 1190, "joints": []},
        {"id": "B", "type": "t", "start": [3090, 0], "end": [3090, 2470], "base": 0, "top": 1190, "joints": []},
    ]
    leaf = {"bond": "stack", "zones": [{"unit": "cube"}], "reinforced_every": 400}
    spec = {"spec": 1, "units": {"cube": unit}, "leaves": {"l": leaf}, "wall_types": {"t": {"outer": "l"}}, "walls": walls}
    design = elevgen.design(Spec.model_validate(spec))
    assert all(piece.length > 0 for pattern in design.coursing.patterns for piece in pattern.pieces)
