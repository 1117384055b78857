"""Layer tables: complete, legal, and the same pens in all of them."""

import pytest

from elevgen.core.errors import RuleDataError
from elevgen.drawing.layers import fault_in_name, layer_tables, load_table
from elevgen.drawing.scene import Role


def test_there_are_three() -> None:
    assert layer_tables() == ("bs1192", "iso13567", "ncs")


@pytest.mark.parametrize("table", ["bs1192", "iso13567", "ncs"])
def test_every_role_has_a_layer_with_a_legal_name(table: str) -> None:
    layers = load_table(table)
    assert [layer.role for layer in layers] == list(Role)
    assert not [layer.name for layer in layers if fault_in_name(layer.name)]
    assert [(x.rgb, x.width, x.line_type) for x in layers] == [(x.rgb, x.width, x.line_type) for x in load_table("ncs")]
    assert [layer.role for layer in layers if not layer.plot] == [Role.VIEWPORT]


def test_fixed_field_names_are_all_of_one_length() -> None:
    assert {len(layer.name) for layer in load_table("iso13567")} == {24}


def test_joints_are_drawn_widest_then_reinforcement_then_bricks() -> None:
    widths = {layer.role: layer.width for layer in load_table("ncs")}
    assert widths[Role.MOVEMENT_JOINT] == max(widths.values())
    assert widths[Role.MOVEMENT_JOINT] >= 2 * widths[Role.BED_REINFORCEMENT]
    assert widths[Role.BED_REINFORCEMENT] >= 2 * widths[Role.UNIT]


def test_colours_stand_out_from_white() -> None:
    """Contrast as the web accessibility guidelines measure it (WCAG 2.1, 1.4.11: 3:1); bricks are meant to be quiet."""

    def luminance(rgb: tuple[int, int, int]) -> float:
        parts = [c / 255 / 12.92 if c / 255 <= 0.03928 else ((c / 255 + 0.055) / 1.055) ** 2.4 for c in rgb]
        return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]

    quiet = {Role.UNIT, Role.TINT, Role.VIEWPORT}
    for layer in load_table("ncs"):
        if layer.role not in quiet:
            assert 1.05 / (luminance(layer.rgb) + 0.05) >= 3.0, layer.role


@pytest.mark.parametrize("name", ["", " A", "A:B", "A|B", "A,B", "A=B", "A`B", "Maß", "A" * 256, "A\nB"])
def test_names_other_programs_refuse_are_refused(name: str) -> None:
    assert fault_in_name(name)


def test_an_unknown_table_is_an_error_that_names_the_known_ones() -> None:
    with pytest.raises(RuleDataError, match="bs1192, iso13567, ncs"):
        load_table("house")
