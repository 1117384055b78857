"""Layer tables: complete, legal, and the same pens in all of them."""

import re
from itertools import combinations

import pytest
from ezdxf.colors import DXF_DEFAULT_COLORS, int2rgb

from elevgen.core.errors import RuleDataError
from elevgen.drawing.indexed import contrast, distance, lab, luminance
from elevgen.drawing.layers import fault_in_name, layer_tables, load_table
from elevgen.drawing.scene import Layer, Role, Tint
from elevgen.drawing.tints import names, tint

PALE = [tint(name).rgb for name in names() if luminance(tint(name).rgb) >= 0.6]
"""What bricks, blocks, cuts and the backs of labels are tinted with."""
WHITE, BLACK = (255, 255, 255), (0, 0, 0)
INDEXED = {i: tuple(int2rgb(c)) for i, c in enumerate(DXF_DEFAULT_COLORS)}
KEPT_APART = (
    Role.MOVEMENT_JOINT,
    Role.BED_REINFORCEMENT,
    Role.LINTEL,
    Role.TIE,
    Role.DPC,
    Role.CUT_UNIT,
    Role.DIMENSION,
)
SIGHTS = {
    "usual": ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
    "no red cones": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "no green cones": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
}


def seen(rgb: tuple[int, int, int], sight: str) -> tuple[float, float, float]:
    """A colour as it is seen, in CIE L*a*b*."""
    light = [c / 255 / 12.92 if c / 255 <= 0.04045 else ((c / 255 + 0.055) / 1.055) ** 2.4 for c in rgb]
    changed = [min(1.0, max(0.0, sum(m * part for m, part in zip(row, light, strict=True)))) for row in SIGHTS[sight]]
    red, green, blue = (round(255 * (12.92 * c if c <= 0.0031308 else 1.055 * c ** (1 / 2.4) - 0.055)) for c in changed)
    return lab((red, green, blue))


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


def test_names_of_bs1192_have_its_fields() -> None:
    """Role, classification, presentation, and an alias after an underscore.

    BS 1192:2007+A1 fields as quoted by a BIM UK guidance page; letters of presentation M, T, H, D, P from memory.
    """
    shape = re.compile(r"[A-Z]-[A-Z][A-Za-z](?:_\d{2}){0,3}-[MTHDP]\d?_[A-Za-z]+")
    assert [x.name for x in load_table("bs1192") if not shape.fullmatch(x.name)] == []


def test_names_of_ncs_have_its_fields() -> None:
    """Discipline of one or two letters, major of four, up to two minors of four, status of one.

    US National CAD Standard / AIA guidelines, as read on pages that carry their text; the two majors from there too.
    """
    shape = re.compile(r"[A-Z]{1,2}-(ELEV|ANNO)(-[A-Z0-9]{4}){1,2}(-[A-Z0-9])?")
    assert [x.name for x in load_table("ncs") if not shape.fullmatch(x.name)] == []


def test_names_of_iso13567_have_its_fields() -> None:
    """Agent of two, element of six, presentation of two characters, status, sector, phase, projection, scale, package, user.

    ISO 13567-2:2017, 6.1 to 7.7 (quoted); hyphens for what is not used, and letters, digits and hyphens only.
    """
    shape = re.compile(r"[A-Z]-(?:[A-Z]{2}\d{4}|-{6})(?:[ETHDJBV-]-)-{6}[1-]-{3}[A-Z]{4}")
    assert [x.name for x in load_table("iso13567") if not shape.fullmatch(x.name)] == []


@pytest.mark.parametrize("table", ["bs1192", "iso13567", "ncs"])
def test_no_two_roles_share_a_layer(table: str) -> None:
    assert len({layer.name.lower() for layer in load_table(table)}) == len(Role)


def test_colours_stand_out_from_white() -> None:
    """Contrast as the web accessibility guidelines measure it (WCAG 2.1, 1.4.11: 3:1); bricks are meant to be quiet."""
    quiet = {Role.UNIT, Role.TINT, Role.VIEWPORT}
    for layer in load_table("ncs"):
        if layer.role not in quiet:
            assert contrast(layer.rgb, WHITE) >= 3.0, layer.role


@pytest.mark.parametrize("layer", load_table("ncs"), ids=lambda x: x.role)
def test_colours_on_screens_stand_out_from_white_from_black_and_from_our_tints(layer: Layer) -> None:
    """WCAG 2.1, 1.4.11: 3:1 for what has to be made out; 1.4.3: 4.5:1 for text, here on white and on black."""
    assert layer.screen is not None
    for background in (WHITE, BLACK, *PALE):
        assert contrast(layer.screen, background) >= 3.0, background
    if layer.role in {Role.TEXT, Role.MARK, Role.LEVEL, Role.DIMENSION}:
        assert min(contrast(layer.screen, WHITE), contrast(layer.screen, BLACK)) >= 4.5


@pytest.mark.parametrize("name", ["clay", "calcium_silicate", "dense_concrete", "aircrete", "stone", "cut", "panel", "opening"])
def test_what_is_drawn_over_in_elevations_is_pale(name: Tint) -> None:
    assert tint(name).rgb in PALE


@pytest.mark.parametrize("layer", load_table("ncs"), ids=lambda x: x.role)
def test_the_indexed_colour_is_the_nearest_one_that_shows_on_white_and_on_black(layer: Layer) -> None:
    shown = [i for i in range(1, 250) if min(contrast(INDEXED[i], WHITE), contrast(INDEXED[i], BLACK)) >= 3.0]
    near = {i: distance(lab(INDEXED[i]), lab(layer.screen)) for i in shown}
    assert near[layer.index] == pytest.approx(min(near.values()), abs=0.5)


@pytest.mark.parametrize("sight", sorted(SIGHTS))
@pytest.mark.parametrize("colours", ["rgb", "screen"])
def test_what_must_not_be_confused_is_told_apart_whatever_colours_one_sees__matrices_from_memory(
    sight: str, colours: str
) -> None:
    """Far apart in colour (CIE 1976 distance; 2.3 is just noticeable), or else in line width (2:1) or line type.

    Sight without red or green cones: G. Machado, M. Oliveira, L. Fernandes, A Physiologically-based Model for Simulation of
    Color Vision Deficiency, IEEE TVCG 15(6), 2009, severity 1.0, on linear light; figures from memory, each row adds up to 1.
    """
    pens = {layer.role: layer for layer in load_table("ncs")}
    for one, other in combinations(KEPT_APART, 2):
        a, b = pens[one], pens[other]
        apart = distance(seen(getattr(a, colours), sight), seen(getattr(b, colours), sight))
        wide, narrow = max(a.width, b.width), min(a.width, b.width)
        drawn_alike = wide < 1.9 * narrow and a.line_type == b.line_type
        assert apart >= (20.0 if drawn_alike else 0.0), (one, other, apart)
        if colours == "screen":  # programs may show all widths alike
            assert apart >= 15.0, (one, other, apart)


def test_each_row_of_the_matrices_keeps_greys_grey() -> None:
    for matrix in SIGHTS.values():
        assert [sum(row) for row in matrix] == pytest.approx([1.0, 1.0, 1.0], abs=1e-5)


@pytest.mark.parametrize("name", ["", " A", "A:B", "A|B", "A,B", "A=B", "A`B", "Maß", "A" * 256, "A\nB"])
def test_names_other_programs_refuse_are_refused(name: str) -> None:
    assert fault_in_name(name)


def test_an_unknown_table_is_an_error_that_names_the_known_ones() -> None:
    with pytest.raises(RuleDataError, match="bs1192, iso13567, ncs"):
        load_table("house")
