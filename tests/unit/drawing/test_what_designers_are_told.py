"""The designer's walk-through against the program: its file of layers can be used, and its lists of names are whole."""

import re
from pathlib import Path

import pytest

from elevgen.drawing.compose import compose
from elevgen.drawing.own_layers import own_layers
from elevgen.drawing.scene import Role, Sheet
from elevgen.pipeline import design_file

ROOT = Path(__file__).parents[3]
PAGE = (ROOT / "examples" / "designer.md").read_text(encoding="utf-8")


def names_after(words: str) -> set[str]:
    """The names in the code marks that follow some words."""
    (found,) = re.findall(rf"{words}\s*`([^`]+)`", PAGE)
    return set(found.split())


@pytest.fixture(scope="module")
def sheets() -> tuple[Sheet, ...]:
    return compose(design_file(ROOT / "specs" / "studio.json")).sheets


def test_the_example_of_own_layers_can_be_used(tmp_path):
    (text,) = re.findall(r"^```json\n(.*?)^```$", PAGE, re.M | re.S)
    path = tmp_path / "office-layers.json"
    path.write_text(text, encoding="utf-8")
    assert {"M-JOINT", "M-REINF", "M-BRICKWORK", "M-NOTES"} <= {layer.name for layer in own_layers(path)}


def test_every_role_is_named():
    assert names_after("Roles:") == set(Role)


def test_every_attribute_of_a_title_block_is_named(sheets):
    assert names_after("three attributes out of") == {name for name, _ in sheets[0].fields}


def test_every_sheet_has_room_and_words_for_a_title_block_of_the_users(sheets):
    for sheet in sheets:
        fields = dict(sheet.fields)
        assert fields["PROJECT"] == "Pottery studio", sheet.id
        assert fields["DRAWING"], sheet.id
        assert re.fullmatch(r"1:\d+", fields["SCALE"]), sheet.id
        assert 1 <= int(fields["SHEET"]) <= int(fields["SHEETS"])
        assert sheet.title_room is not None
        assert sheet.title_room.width == 180.0
        assert 35.0 <= sheet.title_room.height < 40.0


def test_the_room_of_the_title_block_holds_what_our_own_says(sheets):
    """What is taken away for a user's title block is the title, not a table or a caution."""
    for sheet in sheets:
        room = sheet.title_room
        texts = [p for p in sheet.primitives if hasattr(p, "text") and hasattr(p, "at")]
        inside = {p.text for p in texts if room.left < p.at[0] < room.right and room.bottom < p.at[1] < room.top}
        assert "Pottery studio" in inside, sheet.id
        assert not [text for text in inside if "setting-out aid" in text], sheet.id
        assert [p for p in texts if "setting-out aid" in p.text.lower()], sheet.id
