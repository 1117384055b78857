"""Cut headers of blocks twice as long as wide and more were taken four out of a block across its width, where two fit."""

from __future__ import annotations

import elevgen
from elevgen.spec.models import Spec


def test_a_cut_header_takes_half_a_block() -> None:
    leaf = {"bond": "flemish", "build": "half_brick", "zones": [{"unit": "dense_block_100"}]}
    wall = {"id": "A", "type": "t", "start": [0, 0], "end": [4490, 0], "base": 0, "top": 900, "joints": []}
    spec = {"spec": 1, "leaves": {"l": leaf}, "wall_types": {"t": {"outer": "l"}}, "walls": [wall]}
    coursing = elevgen.design(Spec.model_validate(spec)).coursing
    headers = [cut for cut in coursing.cutting.pieces if cut.laid == "header"]
    assert headers
    assert all(cut.box.length == 215 and cut.box.width == 100 for cut in headers)
    (need,) = coursing.cutting.of("A/outer").needs
    assert need.cut_from >= sum(cut.number for cut in headers) / 2
