"""One thing wrong at a time: its path, its place in the file, what is allowed, what was perhaps meant.

`«` in the replacement marks where the fault must point; it is taken out before the spec is read.
"""

# ruff: noqa: E501 - one row of a table, one line

from fractions import Fraction

import pytest

from elevgen.building.model import Unit
from elevgen.building.walls import wall_lines
from elevgen.core.errors import SpecError
from elevgen.spec.load import parse_text

MARK = "«"


# old text, new text, path, given, part of the message, part of what is allowed, nearest
FORM = [
    ('"rules": "uk",\n  "over', '«"rule": "uk",\n  "over', "rule", '"rule"', "unknown key", "overrides", "rules"),
    ('"width": 910', '«"widht": 910, "width": 910', "walls[0].openings[0].widht", '"widht"', "unknown key", "sill", "width"),
    ('"cavity": 100}', '"cavity": 100, «"Cavity": 5}', "wall_types.cavity.Cavity", '"Cavity"', "unknown key", "inner", "cavity"),
    ('"bond": "stretcher"', '«"bnd": "stretcher"', "leaves.outside.bnd", '"bnd"', "unknown key", "zones", "bond"),
    ('"connection": "tied"', '"connection": "tied", «"xyzzy": 1', "junctions[0].xyzzy", '"xyzzy"', "unknown key", "leaf", ""),
    ('"width": 12}', '"width": 12, «"whidth": 1}', "walls[0].joints[1].whidth", '"whidth"', "unknown key", "leaf", "width"),
    ('       {"id": "D1"', '       «{"xy": 3', "walls[0].openings[0].id", "", "missing", "whole building", ""),
    ('{"id": "D1"', '{«"idd": "D1"', "walls[0].openings[0].idd", '"idd"', "unknown key", "sill", "id"),
    ('"height": 2100', '«"heigth": 2100', "walls[0].openings[0].heigth", '"heigth"', "unknown key", "sill", "height"),
    ('"cavity": 100}', '«"cavty": 100}', "wall_types.cavity.cavty", '"cavty"', "unknown key", "inner", "cavity"),
    ('"spec": 1,\n', "\n", "spec", "", "missing", "1", ""),
    (', "connection": "tied"', "", "junctions[0].connection", "", "missing", "bonded, tied, jointed, free", ""),
    (
        '"joints": "place"',
        '"joints": [«5000, {"at": 6000}]',
        "walls[1].joints[0]",
        "5000",
        'such as {"at": 5000}',
        '{"at": 5000}',
        "",
    ),
    ('[{"unit": "aircrete_block_100"}]', '[«"aircrete_block_100"]', "leaves.inside.zones[0]", None, "must be", '{"unit": ', ""),
    ('{"kind": "downpipe", "at": 12000}', "«12000", "walls[0].features[0]", "12000", "must be", '{"kind": ', ""),
    ('"top": 2550', '"top": [«0, [7300, 2550]]', "walls[1].top[0]", "0", "must be", "[along, level]", ""),
    ('"rules": "net"', '"rules": «"nett"', "measurement.rules", '"nett"', "no measurement rule set", "net, nrm2-like", "net"),
    ('"rules": "net"', '"rules": «"NRM2"', "measurement.rules", '"NRM2"', "no measurement rule set", "nrm2-like", "nrm2-like"),
    ('"rules": "net"', '"rules": «5', "measurement.rules", "5", "must be text", "text in double quotes", ""),
    (
        '"rules": "net"',
        '"own": {«"dim_round": 5}',
        "measurement.own.dim_round",
        '"dim_round"',
        "unknown key",
        "dim_round_mm",
        "dim_round_mm",
    ),
    (
        '"rules": "net"',
        '"own": {"opening_min_area_m2": «"0.5 m2"}',
        "measurement.own.opening_min_area_m2",
        '"0.5 m2"',
        "a number of m2",
        "m2",
        "",
    ),
    (
        '"rules": "net"',
        '"own": {"opening_min_area_m2": «-0.1}',
        "measurement.own.opening_min_area_m2",
        "-0.1",
        "too small",
        "at least 0 m2",
        "",
    ),
    (
        '"rules": "net"',
        '"own": {"opening_min_area_m2": «true}',
        "measurement.own.opening_min_area_m2",
        "true",
        "a number of m2",
        "m2",
        "",
    ),
    (
        '"rules": "net"',
        '"own": {"dim_round_mm": «5000}',
        "measurement.own.dim_round_mm",
        "5000",
        "too large",
        "at most 1000 mm",
        "",
    ),
    ('"rules": "net"', '"own": {"qty_round": «101}', "measurement.own.qty_round", "101", "too large", "at most 100", ""),
    (
        '"rules": "net"',
        '"own": {"keep_at_least_one": «1}',
        "measurement.own.keep_at_least_one",
        "1",
        "true or false",
        "true or false",
        "",
    ),
    (
        '"rules": "net"',
        '"own": {"wall_measured_on": «"center_line"}',
        "measurement.own.wall_measured_on",
        '"center_line"',
        "choices",
        "face, centre_line",
        "centre_line",
    ),
    (
        '"rules": "net"',
        '"own": {"column_order": «"unit"}',
        "measurement.own.column_order",
        '"unit"',
        "choices",
        "qty-unit, unit-qty",
        "unit-qty",
    ),
    ('"rules": "net"', '"own": «[0.5]', "measurement.own", "a list", "an object", "an object", ""),
    ('"kind": "door"', '"kind": «"Door"', "walls[0].openings[0].kind", '"Door"', "choices", "door, window, opening", "door"),
    ('"material": "clay"', '"material": «"aircret"', "units.facing.material", '"aircret"', "choices", "clay", "aircrete"),
    ('"bond": "stretcher"', '"colour": «"drak"', "leaves.outside.colour", '"drak"', "choices", "light, medium, dark", "dark"),
    ('"joints": "place"', '"slip_ties": «"yes"', "walls[1].slip_ties", '"yes"', "true or false", "true or false", ""),
    ('"joints": "place"', '"slip_ties": «1', "walls[1].slip_ties", "1", "true or false", "true or false", ""),
    ('"size": "A3"', '"size": «3', "sheet.size", "3", "choices", "A4, A3, A2, A1, A0", ""),
    ('"joints": "place"', '"joints": «"plaice"', "walls[1].joints", '"plaice"', "choices", '"place", or a list', "place"),
    ('"joints": "place"', '"joints": [«"plaice"]', "walls[1].joints[0]", '"plaice"', "choices", 'or "place"', "place"),
    (
        '"joints": "place"',
        '"stands": «"parapets"',
        "walls[1].stands",
        '"parapets"',
        "choices",
        "building, parapet, free",
        "parapet",
    ),
    ('"joints": "place"', '"existing": «1', "walls[1].existing", "1", "true or false", "true or false", ""),
    ('"bond": "stretcher"', '"reinforced_every": «40', "leaves.outside.reinforced_every", "40", "too small", "50 mm", ""),
    ('"bond": "stretcher"', '"reinforced_every": «"ten"', "leaves.outside.reinforced_every", '"ten"', "not a length", "m", ""),
    ('"length": 215', '"mass": «0, "length": 215', "units.facing.mass", "0", "too small", "more than 0 kg", ""),
    ('"length": 215', '"mass": «900, "length": 215', "units.facing.mass", "900", "too large", "at most 500 kg", ""),
    ('"length": 215', '"mass": «"2 kg", "length": 215', "units.facing.mass", '"2 kg"', "must be a number", "kg", ""),
    ('"length": 215', '"mass": «true, "length": 215', "units.facing.mass", "true", "must be a number", "kg", ""),
    ('"spec": 1', '"spec": «2', "spec", "2", "version", "1", ""),
    ('"spec": 1', '"spec": «true', "spec", "true", "version", "1", ""),
    ('"width": 910', '"width": «"910"', "walls[0].openings[0].width", '"910"', "not a length", "910 mm", ""),
    ('"width": 910', '"width": «true', "walls[0].openings[0].width", "true", "true or false", "910 mm", ""),
    ('"width": 910', '"width": «null', "walls[0].openings[0].width", "null", "not a length", "12.14 m", ""),
    ('"width": 910', '"width": «[910]', "walls[0].openings[0].width", "a list", "not a length", "12.14 m", ""),
    ('"width": 910', '"width": «1e999', "walls[0].openings[0].width", "1e999", "too large", "at most", ""),
    ('"width": 910', '"width": «-910', "walls[0].openings[0].width", "-910", "too small", "at least 10 mm", ""),
    ('"height": 65', '"height": «"2.1 m"', "units.facing.height", '"2.1 m"', "too large", "at most 2000 mm", ""),
    ('"height": 65', '"height": «9.5', "units.facing.height", "9.5", "too small", "at least 10 mm", ""),
    ('"scale": 50', '"scale": «50.5', "sheet.scale", "50.5", "whole number", "1 to 1000", ""),
    ('"scale": 50', '"scale": «0', "sheet.scale", "0", "too small", "at least 1", ""),
    ('"units": 7.5', '"units": «101', "measurement.waste.units", "101", "too large", "at most 100 per cent", ""),
    ('"units": 7.5', '"units": «"5"', "measurement.waste.units", '"5"', "not a number", "per cent", ""),
    ('"value": 300', '"value": «true', "overrides[0].value", "true", "must be", "a number, or text", ""),
    ('"reason": "exposed"', '"reason": «""', "overrides[0].reason", '""', "empty", "1 character", ""),
    ('"title": "Kiln shed"', '"title": «"a\\tb"', "project.title", '"a\\tb"', "right form", "control characters", ""),
    ('"title": "Kiln shed"', '"title": «17', "project.title", "17", "must be text", "double quotes", ""),
    ('"2026-02-28"', '«"2026-02-29"', "project.date", '"2026-02-29"', "calendar", "YYYY-MM-DD", ""),
    ('"2026-02-28"', '«"28/2/26"', "project.date", '"28/2/26"', "right form", "YYYY-MM-DD", ""),
    ('"id": "D1"', '"id": «"D 1"', "walls[0].openings[0].id", '"D 1"', "right form", "beginning with a letter", ""),
    ('"end": [12140, 7300]', '"end": «[12140, 7300, 0]', "walls[1].end", "a list", "too many", "[x, y]", ""),
    ('"end": [12140, 7300]', '"end": «[12140]', "walls[1].end", "a list", "too few", "[x, y]", ""),
    ('"end": [12140, 7300]', '"end": [12140, «"x"]', "walls[1].end[1]", '"x"', "not a length", "12.14 m", ""),
    ('"top": 2550', '"top": «{}', "walls[1].top", "an object", "must be", "a level, or a list", ""),
    ('"top": 2550', '"top": «[[0, 2550]]', "walls[1].top", "a list", "too few", "at least 2", ""),
    ('"sheet": {"size": "A3", "scale": 50, "layers": "ncs"}', '"sheet": «"A3"', "sheet", '"A3"', "object", "{ }", ""),
]

NAMES = [
    ('"rules": "uk",\n  "over', '"rules": «"ukk",\n  "over', "rules", '"ukk"', 'no rule set "ukk"', "au, uk", "uk"),
    ('"rule": "tie.spacing.vertical"', '"rule": «"tie.spacing.vertcal"', "overrides[0].rule", None, "no rule", "", "tie.spacing.vertical"),
    ('"finding": "short-return"', '"finding": «"short_return"', "waivers[0].finding", None, "no finding", "panel", "short-return"),
    ('"layers": "ncs"', '"layers": «"NCS"', "sheet.layers", '"NCS"', "no layer table", "ncs, plain", "ncs"),
    ('"unit": "facing"', '"unit": «"facng"', "leaves.outside.zones[0].unit", '"facng"', "no unit", "brick_65", "facing"),
    ('"unit": "dense_block_100"', '"unit": «"dense_blok_100"', "leaves.outside.zones[1].unit", None, "no unit", "", "dense_block_100"),
    ('"unit": "dense_block_100"', '"unit": «"brick_76"', "leaves.outside.zones[1].unit", None, "no unit", "", "brick_65"),
    ('"bond": "stretcher"', '"bond": «"streacher"', "leaves.outside.bond", None, "no bond", "stack", "stretcher"),
    ('"inner": "inside"', '"inner": «"insid"', "wall_types.cavity.inner", None, "no leaf", "inside, outside", "inside"),
    ('"partition": {"outer": "inside"}', '"partition": {"outer": «"inner"}', "wall_types.partition.outer", None, "no leaf", "", "inside"),
    ('"type": "cavity", "start": [0', '"type": «"cavty", "start": [0', "walls[0].type", None, "no wall type", "partition", "cavity"),
    ('["W2", "P1"]', '["W2", «"P2"]', "junctions[0].walls[1]", '"P2"', 'no wall "P2"', "P1, W1, W2", "P1"),
    ('["W2", "P1"]', '["P1", «"P1"]', "junctions[0].walls[1]", '"P1"', "cannot meet itself", "two", ""),
    ('"id": "W2"', '"id": «"w1"', "walls[1].id", '"w1"', "there already, in walls[0]", "capitals", ""),
    ('"id": "O2"', '"id": «"D1"', "walls[0].openings[2].id", '"D1"', "in walls[0].openings[0]", "whole building", ""),
    ('"units": 7.5', '«"unit": 7.5', "measurement.waste.unit", '"unit"', "no item", "mortar, units", "units"),
    (', "cavity": 100}', "}", "wall_types.cavity.cavity", "", "needs a cavity", "between", ""),
    (', "inner": "inside"', "", "wall_types.cavity.cavity", "100", "needs an inner leaf", "inside", ""),
    ('"to": 600}', '"to": 600}, {"unit": "facing", "to": «600}', "leaves.outside.zones[1].to", "600", "not above", "600", ""),
    ('"unit": "facing", "to": 600', '"unit": "facing"', "leaves.outside.zones[0].to", "", "only the last", "", ""),
    ('{"unit": "aircrete_block_100"}', '{"unit": "aircrete_block_100", "to": «2300}', "leaves.inside.zones[0].to", "2300", "goes on above", "", ""),
    ('"line": "centre"', '"joints": [{"at": 500, "leaf": «"inner"}]', "walls[2].joints[0].leaf", None, "no inner leaf", "outer", ""),
]  # fmt: skip

GEOMETRY = [
    ('"end": [12140, 7300]', '"end": «[12140, 0]', "walls[1].end", "a list", "no length", "more than 25 mm", ""),
    ('"end": [12140, 7300]', '"end": «[12140, 25]', "walls[1].end", "a list", "only 25 mm long", "more than 25 mm", ""),
    ('"end": [12140, 7300]', '"end": «[12140, 10000001]', "walls[1].end", "a list", "10000001 mm long", "10000000", ""),
    ('"top": 2550', '"top": «0', "walls[1].top", "0", "not above the base", "more than 0", ""),
    ('"top": 2550', '"top": «[[0, 2550], [7300, -1]]', "walls[1].top", "a list", "7300 mm along", "", ""),
    ('"top": 2550', '"top": «[[0, 2550], [3000, 2550], [3000, 0], [7300, 0]]', "walls[1].top", "a list", "3000 mm", "", ""),
    ('"top": 2550', '"top": «"1001 m"', "walls[1].top", None, "absurdly high", "1000000", ""),
    ("[4000, 3900]", "[«12141, 3900]", "walls[0].top[1][0]", "12141", "outside the wall", "0 to 12140 mm", ""),
    ("[[0, 2700]", "[[«-1, 2700]", "walls[0].top[0][0]", "-1", "outside the wall", "0 to 12140 mm", ""),
    ("[12140, 2550]]", "[8000, 2600], [«7000, 2550]]", "walls[0].top[3][0]", "7000", "before the point", "8000", ""),
    ("[5000, -375],", "[5000, -300], [«5000, -375],", "walls[0].base[3][0]", "5000", "third point", "two for a step", ""),
    ("[5000, -375],", "«[5100, -375],", "walls[0].base[2]", "a list", "slopes", "[5100, -150]", ""),
    ('"at": 1347.5', '"at": «-0.5', "walls[0].openings[0].at", "-0.5", 'opening "D1" lies outside', "0 to 11230 mm", ""),
    ('"at": 7200, "width": 1800', '"at": 7200, "width": «4940.5', "walls[0].openings[2].width", None, "past the end", "4940 mm", ""),
    ('"at": 7200', '"at": «12140', "walls[0].openings[2].at", "12140", "lies outside", "10340", ""),
    ('"sill": 0', '"sill": «-151', "walls[0].openings[0].sill", "-151", "below the base", "-150 mm", ""),
    ('"height": 1050}', '"height": «2171}', "walls[0].openings[2].height", "2171", "above the top", "2170", ""),
    ('{"id": "O2", "at": 7200', '«{"id": "O2", "at": 7199', "walls[0].openings[2]", "an object", 'over opening "O1"', "side by side", ""),
    ('"at": 12000', '"at": «12140.5', "walls[0].features[0].at", "12140.5", "outside its wall", "12140", ""),
    ('"at": 6075', '"at": «"-1 mm"', "walls[0].joints[0].at", None, "outside its wall", "at most 12135 mm", ""),
    ('"start": [12140, 3000], "end": [4000, 3000]', '"start": [12140, 7300], "end": «[12140, 0]', "walls[2].end", None, "where walls[1] stands", "once", ""),
]  # fmt: skip


CONSEQUENCES = {"walls[1].id": {"junctions[0].walls[0]"}, "walls[0].openings[0].id": {"walls[0].openings[0].xy"}}


@pytest.mark.parametrize("row", FORM + NAMES + GEOMETRY, ids=lambda row: f"{row[2]}: {row[4]}")
def test_each_fault_says_where_and_what(row, good, vocabulary):
    old, new, path, given, message, allowed, nearest = row
    assert good.count(old) >= 1
    marked = good.replace(old, new, 1)
    text = marked.replace(MARK, "")
    with pytest.raises(SpecError) as caught:
        parse_text(text, "shed.json", vocabulary)
    assert caught.value.source == "shed.json"
    told = {f.where: f for f in caught.value.faults}
    assert set(told) - CONSEQUENCES.get(path, set()) == {path}
    assert len(told) == len(caught.value.faults)
    fault = told[path]
    assert message in fault.message
    assert allowed in fault.allowed
    assert fault.nearest == nearest
    if given is not None:
        assert fault.given == given
    if MARK in marked:
        before = marked[: marked.index(MARK)]
        assert (fault.line, fault.column) == (before.count("\n") + 1, len(before) - before.rfind("\n"))


def test_the_good_spec_is_good(good, vocabulary):
    spec = parse_text(good, "shed.json", vocabulary)
    assert spec.walls[0].end == (12140.0, 0.0)
    assert spec.units["facing"].joint == 9.525
    assert spec.walls[2].top == float((8 * 12 + 4 + Fraction(3, 8)) * Fraction(254, 10))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('"at": 7200, "width": 1800', '"at": 7200, "width": 4940'),
        ('"sill": 0, "height": 2100', '"sill": -150, "height": 2250'),
        ('"height": 1050}', '"height": 1000}, {"id": "O3", "at": 7200, "width": 1800, "sill": 1900, "height": 50}'),
        ('"at": 6075', '"at": 6500'),  # inside an opening: a finding, not a fault
        ('"at": 12000', '"at": 12140'),
        # a reveal a float hair before the base's step down
        ('{"id": "O1"', '{"id": "O3", "at": 4999.9999999, "width": 900, "sill": -375, "height": 1000}, {"id": "O1"'),
        ('"top": 2550', '"top": [[0, 0], [4000, 2550], [7300, 0]]'),  # a gable of its own, down to nothing at its ends
        ('"width": 12}', '"width": null}'),
        ('"value": 300', '"value": "half_spacing"'),
    ],
)
def test_touching_and_equal_are_allowed(old, new, good, vocabulary):
    assert old in good
    parse_text(good.replace(old, new, 1), "shed.json", vocabulary)


def test_the_shortest_wall_is_the_same_for_whoever_builds_it(good, vocabulary):
    def south(length):
        return good.replace('"end": [12140, 7300], "top": 2550', f'"end": [12140, {length}], "top": 2550', 1)

    spec = parse_text(south(25.02), "", vocabulary)
    units = {name: Unit(name, "clay", 215, 65, 102.5, 10) for name in ("facing", "dense_block_100", "aircrete_block_100")}
    assert not wall_lines(spec, units)[1]
    with pytest.raises(SpecError):
        parse_text(south(25.005), "", vocabulary)
    short = spec.walls[1].model_copy(update={"end": (12140.0, 25.005)})
    (fault,) = wall_lines(spec.model_copy(update={"walls": (short,)}), units)[1]
    assert fault.where == "walls[0].end"


def test_items_that_are_wrong_are_not_also_too_few(vocabulary):
    with pytest.raises(SpecError) as caught:
        parse_text('{"spec": 1, "leaves": {}, "wall_types": {}, "walls": [{"id": 5}]}', "", vocabulary)
    assert "walls" not in [f.where for f in caught.value.faults]


def test_a_missing_key_points_at_its_object(good, vocabulary):
    text = good.replace('"sill": 0, ', "", 1)
    with pytest.raises(SpecError) as caught:
        parse_text(text, "", vocabulary)
    (fault,) = caught.value.faults
    assert fault.where == "walls[0].openings[0].sill"
    assert text.splitlines()[fault.line - 1][fault.column - 1 :].startswith('{"id": "D1"')


def test_every_fault_in_one_pass_in_file_order(good, vocabulary):
    changes = {
        '"rules": "uk",\n  "over': '"rules": "uj",\n  "over',
        '"length": 215': '"lenght": 215',
        '"inner": "inside"': '"inner": "insid"',
        '"at": 1347.5': '"at": -1',
        '"at": 12000': '"at": "far"',
        '"id": "W2"': '"id": "W1"',
        '["W2", "P1"]': '["W2", "P7"]',
        '"scale": 50': '"scale": 50, "scale": NaN',
    }
    text = good
    for old, new in changes.items():
        assert old in text
        text = text.replace(old, new, 1)
    with pytest.raises(SpecError) as caught:
        parse_text(text, "", vocabulary)
    assert [f.where for f in caught.value.faults] == [
        "rules",
        "units.facing.lenght",
        "wall_types.cavity.inner",
        "walls[0].openings[0].at",
        "walls[0].features[0].at",
        "walls[1].id",
        "junctions[0].walls[0]",
        "junctions[0].walls[1]",
        "sheet.scale",
        "sheet.scale",
    ]
    assert [(f.line, f.column) for f in caught.value.faults] == sorted((f.line, f.column) for f in caught.value.faults)


def test_a_building_too_large_to_draw_is_refused(good, vocabulary):
    walls = ",".join(
        f'{{"id": "L{k}", "type": "cavity", "start": [0, {9000 + 500 * k}], "end": ["9900 m", {9000 + 500 * k}], "top": "9 m"}}'
        for k in range(4)
    )
    text = good.replace('{"id": "W2"', walls + ', {"id": "W2"', 1)
    with pytest.raises(SpecError) as caught:
        parse_text(text, "", vocabulary)
    (fault,) = caught.value.faults
    assert fault.where == "walls"
    assert "too many for one spec" in fault.message
