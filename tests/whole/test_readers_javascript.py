"""Every DXF of a set as two JavaScript parsers read it: dxf-parser and dxf, which web viewers are built on.

They come from the npm registry; `.ci/run` installs them into a folder that ELEVGEN_NODE_MODULES names. Where they are not
found, what they would show is skipped.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from collections import Counter
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from finished_set import Drawing, Set

from elevgen.drawing.scene import BlockUse, Dimension, Fill, Line, Paragraph, Polyline, Symbol, Text

HERE = Path(__file__).parent
NODE = shutil.which("node")
MODULES = Path(os.environ.get("ELEVGEN_NODE_MODULES") or Path.home() / ".cache" / "elevgen" / "node_modules")
ENTITY = {
    Line: "LINE",
    Polyline: "LWPOLYLINE",
    Text: "TEXT",
    Paragraph: "MTEXT",
    Dimension: "DIMENSION",
    Symbol: "INSERT",
    BlockUse: "INSERT",
    Fill: "HATCH",
}
IN_R12 = {"LWPOLYLINE": "POLYLINE", "MTEXT": "TEXT", "HATCH": "SOLID"}


def has(module: str) -> pytest.MarkDecorator:
    there = NODE is not None and (MODULES / module / "package.json").is_file()
    return pytest.mark.skipif(not there, reason=f"{module} for node is not installed (ELEVGEN_NODE_MODULES)")


@cache
def read(path: Path, module: str) -> Any:
    command = [str(NODE), str(HERE / "read_dxf.cjs"), str(path), module]
    done = subprocess.run(command, capture_output=True, env={**os.environ, "NODE_PATH": str(MODULES)}, check=False, timeout=120)
    assert done.returncode == 0, done.stderr.decode()[-2000:]
    return json.loads(done.stdout)


def expected(made: Set, drawing: Drawing, *but: str) -> Counter[str]:
    """How many of each kind on each layer; kinds in `but` left out."""
    found = ((ENTITY[type(p)], made.scene.layer(p.role).name) for view, _ in drawing.views for p in view.primitives)
    return Counter(f"{kind}|{layer}" for kind, layer in found if kind not in but)


@has("dxf-parser")
def test_as_much_of_everything_on_every_layer(made: Set) -> None:
    """This parser knows no hatches."""
    for drawing in made.drawings:
        assert read(drawing.path, "dxf-parser")["counts"] == expected(made, drawing, "HATCH"), drawing.path.name


@has("dxf")
def test_as_much_of_everything_on_every_layer_hatches_too(made: Set) -> None:
    for drawing in made.drawings:
        assert read(drawing.path, "dxf")["counts"] == expected(made, drawing), drawing.path.name


@has("dxf")
@has("dxf-parser")
def test_every_number_is_one(made: Set) -> None:
    for drawing in made.drawings:
        for module in ("dxf-parser", "dxf"):
            assert read(drawing.path, module)["bad"] == [], (drawing.path.name, module)


@has("dxf-parser")
def test_every_dimension_has_its_block_and_every_block_laid_is_there(made: Set) -> None:
    for drawing in made.drawings:
        found = read(drawing.path, "dxf-parser")
        blocks = set(found["blocks"])
        dimensioned = any(isinstance(p, Dimension) for view, _ in drawing.views for p in view.primitives)
        assert bool(found["dimensionBlocks"]) == dimensioned, drawing.path.name
        assert set(found["dimensionBlocks"]) <= blocks, drawing.path.name
        assert len(set(found["dimensionBlocks"])) == len(found["dimensionBlocks"]), "each has its own"
        assert all(found["blockSizes"][name] for name in found["dimensionBlocks"]), drawing.path.name
        assert set(found["inserts"]) <= blocks, drawing.path.name
        assert all(found["blockSizes"][name] for name in found["inserts"]), drawing.path.name


@has("dxf-parser")
def test_dimensions_say_what_the_drawing_says(made: Set) -> None:
    """By their own text, or by what they measure."""
    for drawing in made.drawings:
        said = Counter(
            text if text not in ("", "<>") else f"{round(measured, 1):g}"
            for text, measured in read(drawing.path, "dxf-parser")["dimensionTexts"]
        )
        wanted = Counter(p.text for view, _ in drawing.views for p in view.primitives if isinstance(p, Dimension))
        assert said == wanted, drawing.path.name


@has("dxf-parser")
def test_the_same_words(made: Set) -> None:
    for drawing in made.drawings:
        wanted = Counter(words(p.text) for view, _ in drawing.views for p in view.primitives if isinstance(p, Text))
        assert Counter(map(words, read(drawing.path, "dxf-parser")["texts"])) == wanted, drawing.path.name


def words(text: str) -> str:
    return " ".join(text.split())


@has("dxf-parser")
def test_millimetres_layers_and_extents_are_said(made: Set) -> None:
    for drawing in made.drawings:
        found = read(drawing.path, "dxf-parser")
        header, reach = found["header"], drawing.reach
        assert (header["$INSUNITS"], header["$MEASUREMENT"]) == (4, 1)
        used = {made.scene.layer(p.role).name for view, _ in drawing.views for p in view.primitives}
        assert used <= set(found["layers"]), drawing.path.name
        for x, y in found["points"]:
            assert reach.left - 0.01 <= x <= reach.right + 0.01, (drawing.path.name, x)
            assert reach.bottom - 0.01 <= y <= reach.top + 0.01, (drawing.path.name, y)


@has("dxf")
def test_blocks_open_to_at_least_what_is_in_them(made: Set) -> None:
    for drawing in made.drawings:
        found = read(drawing.path, "dxf")
        blocks = {block.name: len(block.primitives) for block in made.scene.blocks}
        laid = sum(blocks[p.block] for view, _ in drawing.views for p in view.primitives if isinstance(p, BlockUse))
        assert found["expanded"] >= laid, drawing.path.name


@has("dxf-parser")
def test_old_dxf_has_as_much_on_every_layer(made_for_old_programs: Set) -> None:
    """Kinds R12 has no word for come as older ones; how many parts a dimension or a tint then has is left to the writer."""
    made = made_for_old_programs
    for drawing in made.drawings:
        found = read(drawing.path, "dxf-parser")
        assert found["bad"] == []
        wanted = Counter(
            f"{IN_R12.get(kind, kind)}|{layer}"
            for kind, layer in (key.split("|") for key in expected(made, drawing, "HATCH", "DIMENSION", "MTEXT").elements())
        )
        short = {key: (n, found["counts"].get(key, 0)) for key, n in wanted.items() if found["counts"].get(key, 0) < n}
        assert short == {}, drawing.path.name
