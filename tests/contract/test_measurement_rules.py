"""What every preset of measurement owes, run on each file of the folder unasked; and that none says more than its source."""

from __future__ import annotations

import shutil
from importlib.resources import files
from pathlib import Path

import pytest

from elevgen.core.errors import RuleDataError, SpecError
from elevgen.core.sourced import STATUS_WORDS, STATUSES
from elevgen.pipeline import vocabulary
from elevgen.rules.measurement import FIELDS, NOT_KNOWN
from elevgen.rules.measurement_loader import load_measurement, measurement_ids

FOLDER = Path(str(files("elevgen.rules") / "measurement"))
EVERY = measurement_ids()

# bill-conventions section 4: opening m2, flue m2, edge always, dimension mm, quantity, walling in; and the weakest status.
TABLE = {
    "nrm2-like": (0.50, 0.25, "yes", 10.0, 1.0, "m2", "memory"),
    "smm7-like": (0.10, 0.25, None, 10.0, 1.0, "m2", "memory"),
    "cesmm4-like": (0.25, None, None, None, 1.0, "m2", "memory"),
    "is1200-like": (0.1, None, None, 10.0, 0.01, "m3", "quoted"),
    "south-africa-like": (0.5, None, None, None, None, None, "quoted"),
    "pomi-like": (0.50, None, None, None, None, "m2", "memory"),
    "net": (0.0, None, "yes", 0.0, 0.0, "m2", "derived"),
}
COLUMNS = (
    *("opening_min_area_m2", "flue_min_area_m2", "boundary_openings_always"),
    *("dim_round_mm", "qty_round", "wall_unit"),
)


def test_every_file_of_the_folder_is_a_preset_a_spec_may_name() -> None:
    assert set(EVERY) == {path.stem for path in FOLDER.glob("*.toml")} == set(TABLE)
    assert vocabulary().measurement_rules == EVERY


@pytest.mark.parametrize("name", EVERY)
def test_a_preset_says_what_the_reference_says_and_no_more(name: str) -> None:
    rules = load_measurement(name)
    *values, weakest = TABLE[name]
    assert [rules.value(column) for column in COLUMNS] == values
    known = {rules.values[column].status for column in COLUMNS if column in rules.values}
    order = ("read", "quoted", "derived", "memory")
    assert max(known, key=order.index) == weakest


@pytest.mark.parametrize("name", EVERY)
def test_every_value_is_cited(name: str) -> None:
    for key, value in load_measurement(name).values.items():
        assert value.key == f"measurement.{key}"
        assert key in FIELDS
        assert value.status in STATUSES
        assert value.document or value.status == "practice"
        assert value.status != "read", "nobody has read a licensed copy"


@pytest.mark.parametrize("name", EVERY)
def test_nothing_is_said_to_be_measured_to_a_rule_book(name: str) -> None:
    rules = load_measurement(name)
    words = rules.words()
    assert words.startswith(f"Measured by rule set {name}")
    assert name == "net" or name.endswith("-like")
    for book in ("NRM2", "SMM7", "CESMM4", "IS 1200", "POMI"):
        assert book not in words
    from_memory = any(value.status == "memory" for value in rules.used)
    assert ("Preset from memory, check your copy." in words) is from_memory


@pytest.mark.parametrize("name", EVERY)
def test_every_parameter_is_listed_with_its_status(name: str) -> None:
    rules = load_measurement(name)
    listed = {row.name: row for row in rules.parameters()}
    assert set(rules.values) <= set(listed) <= set(FIELDS)
    for key, row in listed.items():
        if key in rules.values:
            assert (row.source, row.known) == (rules.values[key], STATUS_WORDS[rules.values[key].status])
            assert row.value != NOT_KNOWN
        else:
            assert (row.source, row.value, row.known) == (None, NOT_KNOWN, NOT_KNOWN)


def test_a_new_preset_is_one_new_file(tmp_path: Path) -> None:
    shutil.copytree(FOLDER, tmp_path / "m")
    entry = '[opening_min_area_m2]\nvalue = 1.0\ndocument = "Ours"\nstatus = "derived"\n'
    (tmp_path / "m" / "ours-like.toml").write_text(f'title = "Ours"\n{entry}')
    assert set(measurement_ids(tmp_path / "m")) == {*EVERY, "ours-like"}
    assert load_measurement("ours-like", root=tmp_path / "m").opening_limit == 1.0


BAD = {
    'title = "x"\n[opening_area]\nvalue = 1': "unknown field",
    'title = "x"\n[dim_round_mm]\nvalue = "10"\ndocument = "D"\nstatus = "memory"': "not a number",
    'title = "x"\n[dim_round_mm]\nvalue = -1\ndocument = "D"\nstatus = "memory"': "not a number from 0 up",
    'title = "x"\n[dim_round_mm]\nvalue = true\ndocument = "D"\nstatus = "memory"': "not a number",
    'title = "x"\n[keep_at_least_one]\nvalue = 1\ndocument = "D"\nstatus = "memory"': "allowed: true, false",
    'title = "x"\n[wall_unit]\nvalue = "m"\ndocument = "D"\nstatus = "memory"': "allowed: m2, m3",
    'title = "x"\n[thickness_bands_mm]\nvalue = [250, 150]\ndocument = "D"\nstatus = "memory"': "do not rise",
    'title = "x"\n[dim_round_mm]\nvalue = 10\ndocument = "D"\nstatus = "sure"': "status",
    'title = "x"\n[dim_round_mm]\nvalue = 10\nstatus = "memory"': "without a document",
    'title = "x"\n[dim_round_mm]\nvalue = 10\npage = 3\ndocument = "D"\nstatus = "memory"': "unknown field 'page'",
    'title = "x"\ndim_round_mm = 10': "a table with a value",
    "[dim_round_mm]\nvalue = 10": "title",
    "title = ": "(the whole file)",
}


@pytest.mark.parametrize(("text", "said"), BAD.items(), ids=range(len(BAD)))
def test_a_file_that_is_wrong_is_refused(tmp_path: Path, text: str, said: str) -> None:
    (tmp_path / "bad.toml").write_text(text)
    with pytest.raises(RuleDataError) as error:
        load_measurement("bad", root=tmp_path)
    assert said in str(error.value)


def test_a_preset_that_is_not_there_is_refused_with_the_nearest() -> None:
    with pytest.raises(SpecError) as error:
        load_measurement("nrm2like")
    (fault,) = error.value.faults
    assert (fault.given, fault.nearest) == ("nrm2like", "nrm2-like")
