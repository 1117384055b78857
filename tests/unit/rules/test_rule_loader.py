from __future__ import annotations

from pathlib import Path

import pytest

from elevgen.core.errors import RuleDataError, SpecError
from elevgen.rules.listing import rule_rows, uncovered_rows
from elevgen.rules.loader import country_ids, load_book
from elevgen.spec.models import Override

HEAD = 'title = "Testland"\nedition = "1"\n'
SPACING = "movement_joint.spacing.normal.clay"
ROD = '[rules."backer_rod.sizes"]\nvalue = [6, 13]\nunit = "mm"\nstatus = "practice"\n'
FILLER = '[rules."filler.barred.clay"]\nvalue = ["hemp", "cork"]\nstatus = "practice"\n'
THERMAL = '[rules."movement.thermal.clay"]\nvalue = 4e-6\nunit = "per_degF"\ndocument = "Code"\nstatus = "read"\n'
ENTRY = f'[rules."{SPACING}"]\nvalue = 11.5\nunit = "m"\ndocument = "Code"\nstatus = "read"\n'


def write(root: Path, country: str, rules: str, units: str = "") -> None:
    folder = root / country
    folder.mkdir()
    (folder / "rules.toml").write_text(rules)
    if units:
        (folder / "units.toml").write_text(units)


def override(rule: str, value: float | str, unit: str = "") -> Override:
    return Override(rule=rule, value=value, unit=unit, reason="maker's advice", by="engineer")


def test_metres_are_stored_as_millimetres(tmp_path: Path) -> None:
    write(tmp_path, "aa", HEAD + ENTRY)
    value = load_book("aa", root=tmp_path).get(SPACING)
    assert (value.value, value.unit, value.document, value.status) == (11500.0, "mm", "Code", "read")


@pytest.mark.parametrize(
    ("rules", "reason"),
    [
        (HEAD + ENTRY.replace("spacing", "spacng"), "unknown key; nearest: movement_joint.spacing.normal.clay"),
        (HEAD + ENTRY.replace('document = "Code"\n', ""), "without a document"),
        (HEAD + ENTRY.replace('"read"', '"sure"'), "status 'sure'"),
        (HEAD + ENTRY.replace('"m"', '"kg"'), "unit 'kg'; allowed: mm, m, in, ft"),
        (HEAD + ENTRY.replace('unit = "m"\n', ""), "unit ''"),
        (HEAD + ENTRY.replace("11.5", '"long"'), "'long' is not a number"),
        (HEAD + ENTRY.replace("11.5", "true"), "True is not a number"),
        (HEAD + ENTRY.replace("11.5", "0"), "not above 0"),
        (HEAD + ENTRY.replace("11.5", "inf"), "not a number"),
        (HEAD + ENTRY + 'colour = "red"\n', "unknown field 'colour'"),
        (HEAD + ENTRY + f'[not_covered]\n"{SPACING}" = "none"\n', "has a value and is listed as not covered"),
        (HEAD + f'[not_covered]\n"{SPACING}" = " "\n', "no reason"),
        (HEAD + ENTRY + 'alternatives = [{ value = 9, unit = "m", status = "read" }]\n', "without a document"),
        (HEAD + 'colour = "red"\n', "unknown heading"),
        (HEAD + 'lengths = "cubits"\n', "'cubits'; allowed: mm, feet"),
        (HEAD + "[rules\n", "whole file"),
        ('edition = "1"\n', "title must be text"),
        (HEAD.replace('"1"', '"1"\nextends = "zz"') + ENTRY, "no rule set 'zz'"),
        (HEAD.replace('"1"', '"1"\nextends = "aa"') + ENTRY, "extends this set in turn"),
        (HEAD + '[rules."movement_joint.corner.kind"]\nvalue = "somehow"\nstatus = "practice"\n', "'somehow'; allowed: half"),
        (HEAD + '[rules."tie.length"]\nvalue = [[100, 225], [75, 200]]\nunit = "mm"\nstatus = "practice"\n', "do not rise"),
        (HEAD + '[rules."weep.minimum"]\nvalue = 2.5\nunit = "nr"\nstatus = "practice"\n', "not a whole number"),
        (HEAD + ROD.replace("[6, 13]", "[13, 6]"), "the sizes do not rise"),
        (HEAD + ROD.replace("[6, 13]", "6"), "6 is not a list"),
        (HEAD + ROD.replace("[6, 13]", "[6, 0]"), "0 is not above 0"),
        (HEAD + FILLER.replace("cork", "straw"), "'straw'; allowed: polyethylene_foam"),
        (HEAD + FILLER.replace('["hemp", "cork"]', "[]"), "[] is not a list"),
        (HEAD + THERMAL.replace("per_degF", "per_m"), "unit 'per_m'; allowed: mm/m/K, per_K, per_degF"),
        (HEAD + THERMAL.replace("4e-6", "-4e-6"), "not above 0"),
    ],
)
def test_a_wrong_rule_file_is_refused_by_name(tmp_path: Path, rules: str, reason: str) -> None:
    write(tmp_path, "aa", rules)
    with pytest.raises(RuleDataError, match=r"aa/rules\.toml") as error:
        load_book("aa", root=tmp_path)
    assert reason in str(error.value)


def test_lists_of_sizes_and_words_and_units_as_documents_print_them(tmp_path: Path) -> None:
    shrinks = '[rules."movement.moisture.clay"]\nvalue = -0.03\nunit = "percent"\nstatus = "practice"\n'
    swing = '[rules."movement.temperature_range"]\nvalue = 90\nunit = "degF"\nstatus = "practice"\n'
    write(tmp_path, "aa", HEAD + ROD.replace("[6, 13]", "[0.5, 1]").replace("mm", "in") + FILLER + THERMAL + shrinks + swing)
    book = load_book("aa", root=tmp_path)
    assert book.get("backer_rod.sizes").sizes == (12.7, 25.4)
    assert book.get("filler.barred.clay").words == ("hemp", "cork")
    assert book.get("movement.thermal.clay").number == pytest.approx(0.0072), "mm to the metre and kelvin"
    assert book.get("movement.moisture.clay").number == pytest.approx(-0.3), "mm to the metre; less than nothing shrinks"
    assert book.get("movement.temperature_range").number == pytest.approx(50)
    rows = {row.key: row.value for row in rule_rows(book)}
    assert (rows["backer_rod.sizes"], rows["filler.barred.clay"]) == ("12.7, 25.4", "hemp, cork")
    for wrong in ("bands", "words", "number"):
        with pytest.raises(TypeError, match=r"backer_rod\.sizes"):
            getattr(book.get("backer_rod.sizes"), wrong)
    with pytest.raises(TypeError, match="list of sizes"):
        _ = book.get("filler.barred.clay").sizes


def test_lists_are_overridden_by_what_a_product_has() -> None:
    book = load_book(
        "uk", (override("backer_rod.sizes", 18), override("filler.allowed.aircrete", "foam_rubber, polyethylene_foam"))
    )
    assert book.get("backer_rod.sizes").sizes == (18.0,)
    assert book.get("filler.allowed.aircrete").words == ("foam_rubber", "polyethylene_foam")
    below = load_book("uk", (override("movement.temperature.air.coldest", -11), override("movement.moisture.clay", 0)))
    assert below.get("movement.temperature.air.coldest").number == -11
    assert below.get("movement.moisture.clay").number == 0


def test_a_child_inherits_replaces_and_withdraws(tmp_path: Path) -> None:
    lap = '[rules."bed_reinforcement.lap"]\nvalue = 225\nunit = "mm"\ndocument = "Code"\nstatus = "quoted"\n'
    write(tmp_path, "parent", HEAD + ENTRY + lap)
    child = ENTRY.replace("11.5", "7.25") + '[not_covered]\n"bed_reinforcement.lap" = "withdrawn"\n'
    write(tmp_path, "child", HEAD + 'extends = "parent"\n' + child)
    book = load_book("child", root=tmp_path)
    assert book.lineage == ("child", "parent")
    assert book.get(SPACING).value == 7250.0
    assert not book.has("bed_reinforcement.lap")
    assert book.not_covered["bed_reinforcement.lap"] == "withdrawn"
    assert load_book("parent", root=tmp_path).get("bed_reinforcement.lap").value == 225.0


def test_how_lengths_are_written_is_the_countrys_or_its_parents(tmp_path: Path) -> None:
    write(tmp_path, "parent", HEAD + 'lengths = "feet"\n' + ENTRY)
    write(tmp_path, "child", HEAD + 'extends = "parent"\n')
    write(tmp_path, "other", HEAD + 'extends = "parent"\nlengths = "mm"\n')
    assert [load_book(name, root=tmp_path).lengths for name in ("parent", "child", "other")] == ["feet", "feet", "mm"]
    assert load_book("uk").lengths == "mm"


def test_a_replacement_that_changes_nothing_is_refused(tmp_path: Path) -> None:
    write(tmp_path, "parent", HEAD + ENTRY)
    write(tmp_path, "child", HEAD + 'extends = "parent"\n' + ENTRY.replace("11.5", "11500").replace('"m"', '"mm"'))
    with pytest.raises(RuleDataError, match="same value from the same source"):
        load_book("child", root=tmp_path)


def test_units_are_refused_without_a_size_or_material(tmp_path: Path) -> None:
    good = '[slab]\nmaterial = "stone"\nlength = 300\nheight = 90\nwidth = 70\nstatus = "practice"\n'
    write(tmp_path, "aa", HEAD, good)
    slab = load_book("aa", root=tmp_path).units["slab"]
    assert (slab.length, slab.height, slab.width, slab.mass, slab.source.value) == (300, 90, 70, None, "300 x 70 x 90")
    write(tmp_path, "ab", HEAD, good + "mass = 4.75\n")
    assert load_book("ab", root=tmp_path).units["slab"].mass == 4.75
    wrong = [("300", "-3"), ("stone", "straw"), ('status = "practice"', 'status = "read"'), ("width", "mass = 0\nwidth")]
    for i, (old, new) in enumerate(wrong):
        write(tmp_path, f"bad{i}", HEAD, good.replace(old, new))
        with pytest.raises(RuleDataError, match=r"unit\.slab"):
            load_book(f"bad{i}", root=tmp_path)


def test_a_folder_is_a_country_only_with_rules(tmp_path: Path) -> None:
    write(tmp_path, "bb", HEAD)
    write(tmp_path, "aa", HEAD)
    (tmp_path / "notes").mkdir()
    assert country_ids(tmp_path) == ("aa", "bb")


def test_an_unknown_country_names_the_known_ones() -> None:
    with pytest.raises(SpecError) as error:
        load_book("ukk")
    fault = error.value.faults[0]
    assert (fault.path, fault.given, fault.nearest) == (("rules",), "ukk", "uk")


@pytest.mark.parametrize(("value", "unit"), [(10, "m"), (10000, ""), ("10 m", ""), (10000, "mm")])
def test_an_override_is_seen_to_be_one(value: float | str, unit: str) -> None:
    before = load_book("uk").get(SPACING)
    book = load_book("uk", (override(SPACING, value, unit),))
    after = book.get(SPACING)
    assert after.value == 10000.0
    assert after.document == "override by engineer"
    assert after.status == "practice"
    assert "maker's advice" in after.note
    assert after.known == "given in the spec", "no practice of the trade"
    assert "in place of 12 m, Brick Development" in after.note
    assert book.alternatives[SPACING][0] == before


def test_an_override_can_add_what_the_set_lacks() -> None:
    book = load_book("uk", (override("lintel.length_step", 150),))
    assert book.get("lintel.length_step").value == 150.0
    assert "lintel.length_step" not in book.not_covered


@pytest.mark.parametrize(
    ("bad", "message"),
    [
        (override("movement_joint.spacing.normal.clat", 10), "no such rule"),
        (override(SPACING, 12, "m"), "changes nothing"),
        (override(SPACING, "twelve"), "is not a length"),
        (override(SPACING, 0), "not above 0"),
        (override(SPACING, 10, "kg"), "unit 'kg'"),
        (override("movement_joint.corner.fraction", "half"), "not a number"),
        (override("movement_joint.corner.kind", "none"), "'none'; allowed"),
        (override("tie.length", 200), "a table cannot be overridden"),
        (override("filler.allowed.clay", "cork, straw"), "'straw'; allowed"),
        (override("backer_rod.sizes", "wide"), "not a number"),
        (override("movement.reversible.clay", -0.1), "not above 0"),
        (override("movement.thermal.clay", 0.006, "in"), "unit 'in'; allowed"),
    ],
)
def test_a_bad_override_is_a_fault_in_the_spec(bad: Override, message: str) -> None:
    good = override("bed_reinforcement.lap", 300)
    with pytest.raises(SpecError) as error:
        load_book("uk", (good, bad))
    assert [fault.path for fault in error.value.faults] == [("overrides", 1)]
    assert message in error.value.faults[0].message


def test_every_bad_override_is_told_in_one_pass() -> None:
    with pytest.raises(SpecError) as error:
        load_book("uk", (override("a", 1), override(SPACING, 9, "m"), override(SPACING, 8, "m")))
    assert [fault.path[1] for fault in error.value.faults] == [0, 2]


def test_listing_shows_value_source_and_alternatives() -> None:
    book = load_book("uk")
    row = next(r for r in rule_rows(book) if r.key == "weep.spacing")
    assert (row.value, row.unit, row.known) == ("900", "mm", "read in the document")
    assert (row.others[0].citation, row.others[0].note) == ("HomeBond (Ireland) (read in the document)", "above openings")
    assert next(r for r in rule_rows(book) if r.key == "weep.minimum").known == "from memory, check"


def test_listing_is_filtered_and_loses_no_key() -> None:
    book = load_book("uk")
    assert {r.key for r in rule_rows(book, "lintel.")} == {key for key in book.values if "lintel." in key}
    assert {r.key for r in uncovered_rows(book)} == set(book.not_covered)
    assert next(r for r in rule_rows(book) if r.key == "tie.length").value.startswith("up to 75: 200, up to 100: 225")
