"""A width of hundreds of digits in a user's own layers, which JSON allows, ended the program with a traceback."""

from pathlib import Path

import pytest

from elevgen.core.errors import SpecError
from elevgen.drawing.own_layers import own_layers


@pytest.mark.parametrize(("given", "near"), [("9" * 400, "2.0"), ("-" + "9" * 400, "0.0"), ("1e999", "2.0"), ("0.6", "0.5")])
def test_it_is_told_as_any_wrong_width_is(tmp_path: Path, given: str, near: str) -> None:
    path = tmp_path / "layers.json"
    path.write_text(f'{{"layers": {{"outline": {{"width": {given}}}}}}}', encoding="utf-8")
    with pytest.raises(SpecError) as told:
        own_layers(path)
    (fault,) = told.value.faults
    assert (fault.where, fault.nearest) == ("layers.outline.width", near)


@pytest.mark.parametrize("name", ["A\\u007fB", "A\\u0001B"])
def test_no_control_character_is_in_a_layers_name(tmp_path: Path, name: str) -> None:
    path = tmp_path / "layers.json"
    path.write_text(f'{{"layers": {{"outline": {{"name": "{name}"}}}}}}', encoding="utf-8")
    with pytest.raises(SpecError, match="not allowed"):
        own_layers(path)
