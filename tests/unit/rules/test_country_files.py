"""What rule files of many countries need of the loader: stems, fractions, units of the inch, parents, units with beds."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest

from elevgen.core.errors import RuleDataError, SpecError
from elevgen.pipeline import vocabulary
from elevgen.rules.key import MATERIALS
from elevgen.rules.keys import KEYS
from elevgen.rules.loader import country_ids, load_book
from elevgen.spec.load import parse_text

HEAD = 'title = "Testland"\nedition = "1"\n'
SPACING = "movement_joint.spacing.normal.clay"
CODE = 'document = "Code"\nstatus = "read"\n'


def write(root: Path, country: str, rules: str, units: str = "") -> None:
    folder = root / country
    folder.mkdir()
    (folder / "rules.toml").write_text(rules)
    if units:
        (folder / "units.toml").write_text(units)


def entry(key: str, value: str, unit: str) -> str:
    return f'[rules."{key}"]\nvalue = {value}\nunit = "{unit}"\n{CODE}'


def refused(root: Path, country: str = "aa") -> str:
    with pytest.raises(RuleDataError) as error:
        load_book(country, root=root)
    return str(error.value)


# ---- stems that are not covered


def test_a_stem_is_every_key_under_it_that_has_nothing_else(tmp_path: Path) -> None:
    """What the file has a value for keeps it, what has a line of its own keeps that, wherever in the file it stands."""
    covered = entry("movement_joint.spacing.limit.stone", "21.5", "m")
    reasons = '"movement_joint.spacing.limit.*" = "none printed"\n"movement_joint.spacing.limit.clay" = "of its own"\n'
    write(tmp_path, "aa", HEAD + covered + "[not_covered]\n" + reasons)
    book = load_book("aa", root=tmp_path)
    said = {
        key.rsplit(".", 1)[1]: why for key, why in book.not_covered.items() if key.startswith("movement_joint.spacing.limit.")
    }
    rest = set(MATERIALS) - {"stone", "clay"}
    assert said == {"clay": "of its own", **dict.fromkeys(rest, "none printed")}
    assert book.get("movement_joint.spacing.limit.stone").value == 21500.0


def test_a_stem_reaches_down_and_leaves_its_neighbours(tmp_path: Path) -> None:
    """`lintel.*` takes lintel.load.triangle.base too; `tie.slip.*` leaves tie.spacing alone; the stem itself is no key of it."""
    write(tmp_path, "aa", HEAD + '[not_covered]\n"lintel.*" = "x"\n"tie.slip.*" = "y"\n"bed_reinforcement.stagger.*" = "z"\n')
    gone = load_book("aa", root=tmp_path).not_covered
    assert gone["lintel.load.triangle.base"] == "x"
    assert {key for key, why in gone.items() if why == "x"} == {key for key in KEYS if key.startswith("lintel.")}
    assert {key for key, why in gone.items() if why == "y"} == {"tie.slip.vertical"}
    assert {key for key, why in gone.items() if why == "z"} == {"bed_reinforcement.stagger.height"}


def test_a_stem_keeps_what_a_parent_has_a_value_for(tmp_path: Path) -> None:
    """A value of the parent is withdrawn by its own name, never by a stem."""
    write(tmp_path, "parent", HEAD + entry("weep.minimum", "3", "nr"))
    write(tmp_path, "aa", HEAD + 'extends = "parent"\n[not_covered]\n"weep.*" = "not seen"\n')
    write(tmp_path, "ab", HEAD + 'extends = "parent"\n[not_covered]\n"weep.*" = "not seen"\n"weep.minimum" = "withdrawn"\n')
    assert load_book("aa", root=tmp_path).get("weep.minimum").value == 3
    assert load_book("ab", root=tmp_path).not_covered == {"weep.minimum": "withdrawn", "weep.spacing": "not seen"}


def test_a_reason_of_a_parent_is_replaced_and_a_value_takes_its_place(tmp_path: Path) -> None:
    write(tmp_path, "parent", HEAD + '[not_covered]\n"weep.*" = "of the parent"\n')
    write(
        tmp_path,
        "aa",
        HEAD + 'extends = "parent"\n' + entry("weep.spacing", "810", "mm") + '[not_covered]\n"weep.*" = "its own"\n',
    )
    book = load_book("aa", root=tmp_path)
    assert (dict(book.not_covered), book.get("weep.spacing").value) == ({"weep.minimum": "its own"}, 810.0)


@pytest.mark.parametrize(
    ("line", "reason"),
    [
        ('"weep.*" = " "', "no reason given"),
        ('"weap.*" = "x"', "no such keys"),
        ('"weep*" = "x"', "no such keys"),
        ('"*" = "x"', "no such keys"),
        ('"weep.spacing.*" = "x"', "no such keys"),
        ('"weep.*" = "x"\n"weep.spacing" = "y"\n"weep.minimum" = "z"', "every key of that stem has a value or a line of its own"),
    ],
)
def test_a_stem_that_says_nothing_is_refused(tmp_path: Path, line: str, reason: str) -> None:
    write(tmp_path, "aa", HEAD + f"[not_covered]\n{line}\n")
    assert reason in refused(tmp_path)


# ---- numbers as documents print them


@pytest.mark.parametrize(
    ("key", "value", "unit", "mm"),
    [
        ("bed_reinforcement.reach", '"2 2/3"', "in", 2.6666666666666665 * 25.4),
        ("bed_reinforcement.reach", '"3/8"', "in", 9.525),
        ("bed_reinforcement.reach", '"23 1/6"', "ft", 7061.2),
        ("movement.moisture.low.clay", '"-2 1/2"', "mm/m", -2.5),
        ("tie.density", '"1/2.67"', "per_sf", 1 / 2.67 / 0.09290304),
        ("tolerance.level.per_metre", '"1/4"', "in/10ft", 6.35 / 3.048),
        ("bed_reinforcement.area.per_height", '"0.025"', "in2/ft", 0.025 * 645.16 / 0.3048),
        ("bed_reinforcement.wire.strength", "60", "ksi", 413.68544),
        ("movement.moisture.low.clay", '"-1/4"', "mm/m", -0.25),
        ("lifting.mass", "55", "lb", 24.94758),
        ("pack.sealant.cartridge", '"10.1"', "floz", 298.6929),
        ("lintel.load.mortar.density", "131", "lb/ft3", 2098.42),
    ],
)
def test_fractions_and_units_of_the_inch(tmp_path: Path, key: str, value: str, unit: str, mm: float) -> None:
    write(tmp_path, "aa", HEAD + entry(key, value, unit))
    assert load_book("aa", root=tmp_path).get(key).number == pytest.approx(mm, rel=1e-6)


def test_a_third_of_an_inch_is_told_to_the_last_bit(tmp_path: Path) -> None:
    """Three courses of 2 2/3 in are 8 in: nothing is lost in the file that would show on the drawing."""
    write(tmp_path, "aa", HEAD + entry("bed_reinforcement.reach", '"2 2/3"', "in"))
    assert 3 * load_book("aa", root=tmp_path).get("bed_reinforcement.reach").number == 203.2


@pytest.mark.parametrize(
    ("value", "unit", "reason"),
    [
        ('"2 /3"', "in", "is not a number"),
        ('"2 -1/3"', "in", "is not a number"),
        ('"23 2"', "ft", "'23 2' is not a number"),
        ('"2 2/3 in"', "in", "is not a number"),
        ('"3/0"', "in", "'3/0' is not a number"),
        ('"3/4/5"', "in", "is not a number"),
        ('""', "in", "'' is not a number"),
        ('"0/7"', "in", "is not above 0"),
        ('"-3/8"', "in", "is not above 0"),
        ('"3/8"', "yd", "unit 'yd'; allowed: mm, m, in, ft"),
        ('"3/8"', "per_sf", "unit 'per_sf'; allowed: mm, m, in, ft"),
    ],
)
def test_what_is_no_fraction_or_no_unit_is_refused(tmp_path: Path, value: str, unit: str, reason: str) -> None:
    write(tmp_path, "aa", HEAD + entry("bed_reinforcement.reach", value, unit))
    assert reason in refused(tmp_path)


# ---- parents


def test_a_parent_only_folder_is_no_rule_set(tmp_path: Path) -> None:
    write(tmp_path, "_shared", HEAD + entry("weep.spacing", "810", "mm"))
    write(tmp_path, "shored", HEAD + 'extends = "_shared"\n')
    assert country_ids(tmp_path) == ("shored",)
    book = load_book("shored", root=tmp_path)
    assert (book.lineage, book.get("weep.spacing").value) == (("shored", "_shared"), 810.0)
    with pytest.raises(SpecError) as error:
        load_book("_shared", root=tmp_path)
    fault = error.value.faults[0]
    assert (fault.path, fault.given, fault.allowed, fault.nearest) == (("rules",), "_shared", "shored", "shored")


def test_a_spec_cannot_choose_what_is_only_to_be_extended() -> None:
    """`_common` is told to be no rule set, with those there are; a slip of the pen in a real one is told the nearest."""
    for given, nearest in (("_common", ""), ("_au", "au"), ("euu", "eu")):
        with pytest.raises(SpecError) as error:
            parse_text(f'{{"spec": 1, "rules": "{given}", "walls": []}}', "x.json", vocabulary())
        fault = next(f for f in error.value.faults if f.path == ("rules",))
        assert (fault.given, fault.nearest) == (f'"{given}"', nearest)
        assert set(country_ids()) <= set(fault.allowed.split(", "))
        assert "_common" not in fault.allowed


def test_a_child_may_keep_a_value_and_name_other_alternatives(tmp_path: Path) -> None:
    lap = entry("bed_reinforcement.lap", "225", "mm")
    other = 'alternatives = [{ value = 300, unit = "mm", document = "Maker", status = "quoted" }]\n'
    write(tmp_path, "parent", HEAD + lap)
    write(tmp_path, "child", HEAD + 'extends = "parent"\n' + lap + other)
    write(tmp_path, "same", HEAD + 'extends = "child"\n' + lap + other)
    parent, child = (load_book(name, root=tmp_path) for name in ("parent", "child"))
    assert child.get("bed_reinforcement.lap") == parent.get("bed_reinforcement.lap")
    assert [a.value for a in child.alternatives["bed_reinforcement.lap"]] == [300.0]
    assert parent.alternatives["bed_reinforcement.lap"] == ()
    assert "same value from the same source" in refused(tmp_path, "same")


def test_uk_is_europe_with_its_own_documents() -> None:
    """What Britain has of its own replaces the European value; what it says nothing of is inherited, source and all."""
    uk, eu = load_book("uk"), load_book("eu")
    assert uk.lineage == ("uk", "eu", "_common")
    assert uk.get("movement.temperature.sun.dark") == eu.get("movement.temperature.sun.dark")
    assert uk.get(SPACING).document == "Brick Development Association, Movement Joints"
    assert eu.get(SPACING).document == "EN 1996-2"
    assert not set(eu.values) & set(uk.not_covered), "Britain withdraws nothing that Europe has"


# ---- units


SLAB = {"material": '"stone"', "length": "300", "height": "90", "width": "70", "status": '"practice"'}


def unit(**changed: str) -> str:
    fields: Mapping[str, str] = SLAB | changed
    return "[slab]\n" + "".join(f"{name} = {value}\n" for name, value in fields.items())


def test_sizes_of_units_as_text_with_joint_and_bed_of_their_own(tmp_path: Path) -> None:
    """Modular brick: three courses of 2 1/4 and a bed of 5/12 in are 8 in."""
    write(
        tmp_path,
        "aa",
        HEAD,
        unit(length='"7 5/8 in"', height='"2 1/4 in"', width='"3 5/8 in"', joint='"3/8 in"', bed='"5/12 in"'),
    )
    write(tmp_path, "ab", HEAD, unit())
    slab, plain = (load_book(name, root=tmp_path).units["slab"] for name in ("aa", "ab"))
    assert (slab.length, slab.height, slab.width) == (193.675, 57.15, 92.075)
    assert slab.bed is not None
    assert (slab.joint, 3 * (slab.height + slab.bed)) == (9.525, pytest.approx(203.2))
    assert (plain.joint, plain.bed) == (None, None)


def test_units_of_a_set_in_feet_tell_their_size_in_inches(tmp_path: Path) -> None:
    write(tmp_path, "aa", HEAD + 'lengths = "feet"\n', unit(length='"7 5/8 in"', height='"2 1/4 in"', width='"3 5/8 in"'))
    source = load_book("aa", root=tmp_path).units["slab"].source
    assert str(source.value).count('"') == 3
    assert "193" not in str(source.value)


@pytest.mark.parametrize(
    ("changed", "reason"),
    [
        ({"length": '"wide"'}, "length: "),
        ({"length": '"7 5/8 yd"'}, "length: "),
        ({"height": '"0 in"'}, "height 0.0 is not a size in mm"),
        ({"joint": "0"}, "joint 0 is not a size in mm"),
        ({"joint": '"-3/8 in"'}, "joint"),
        ({"bed": "true"}, "bed True is not a size in mm"),
        ({"bead": "3"}, "got 'bead'"),
    ],
)
def test_a_size_that_is_none_is_refused_by_its_name(tmp_path: Path, changed: Mapping[str, str], reason: str) -> None:
    write(tmp_path, "aa", HEAD, unit(**changed))
    said = refused(tmp_path)
    assert "aa/units.toml" in said
    assert "unit.slab" in said
    assert reason in said


def test_a_child_replaces_a_unit_only_by_another(tmp_path: Path) -> None:
    write(tmp_path, "parent", HEAD, unit())
    write(tmp_path, "child", HEAD + 'extends = "parent"\n', unit(bed="7"))
    write(tmp_path, "same", HEAD + 'extends = "parent"\n', unit())
    assert load_book("child", root=tmp_path).units["slab"].bed == 7
    assert "the same unit from the same source" in refused(tmp_path, "same")
