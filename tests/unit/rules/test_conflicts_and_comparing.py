"""Values documents differ on, with the reason for the one; and two rule sets beside each other."""

from __future__ import annotations

from pathlib import Path

import pytest

from elevgen.core.errors import RuleDataError
from elevgen.rules.book import RuleBook
from elevgen.rules.compare import ComparedRow, compared, same_value
from elevgen.rules.keys import KEYS
from elevgen.rules.listing import rule_rows
from elevgen.rules.loader import load_book
from elevgen.rules.subjects import OTHER, in_order, subject
from elevgen.spec.models import Override

HEAD = 'title = "Testland"\nedition = "1"\n'
STEM = "movement_joint.spacing.normal"


def entry(key: str, value: object, unit: str, status: str = "read", others: str = "") -> str:
    more = f"alternatives = [{others}]\n" if others else ""
    return f'[rules."{key}"]\nvalue = {value}\nunit = "{unit}"\ndocument = "Code"\nstatus = "{status}"\n{more}'


def other(value: object, unit: str, status: str) -> str:
    return f'{{ value = {value}, unit = "{unit}", document = "Book", status = "{status}" }},'


def book(root: Path, rules: str, country: str = "aa") -> RuleBook:
    (root / country).mkdir(exist_ok=True)
    (root / country / "rules.toml").write_text(rules, encoding="utf-8")
    return load_book(country, root=root)


def why(held: RuleBook) -> dict[str, str]:
    return {row.key: row.why for row in rule_rows(held)}


def test_a_reason_of_a_values_own_goes_before_its_stems_and_none_is_made_up(tmp_path: Path) -> None:
    rules = "".join(entry(f"{STEM}.{m}", 6, "m", others=other(9, "m", "read")) for m in ("clay", "aircrete", "stone"))
    rules += entry(f"{STEM}.dense_concrete", 6, "m", others=other(6, "m", "quoted"))
    rules += entry("movement_joint.change_of_height", 1, "m", others=other(2, "m", "read"))
    held = book(tmp_path, HEAD + rules + f'[why]\n"{STEM}.stone" = "cladding"\n"{STEM}.*" = "the lower"\n')
    assert why(held) == {
        f"{STEM}.clay": "the lower",
        f"{STEM}.aircrete": "the lower",
        f"{STEM}.stone": "cladding",
        f"{STEM}.dense_concrete": "",
        "movement_joint.change_of_height": "",
    }


@pytest.mark.parametrize(
    ("why_text", "reason"),
    [
        (f'"{STEM}.aircrete" = "x"', "no other figure is given"),
        (f'"{STEM}.stone" = "x"', "no other figure is given"),
        ('"tie.*" = "x"', "no other figure is given"),
        (f'"{STEM}.cly" = "x"', "unknown key; nearest: movement_joint.spacing.normal.clay"),
        (f'"{STEM}.clay" = " "', "must be text"),
    ],
)
def test_a_reason_for_nothing_is_refused(tmp_path: Path, why_text: str, reason: str) -> None:
    rules = entry(f"{STEM}.clay", 12, "m", others=other(9, "m", "read"))
    rules += entry(f"{STEM}.aircrete", 6, "m", others=other(6000, "mm", "read"))
    with pytest.raises(RuleDataError, match=r"aa/rules\.toml") as error:
        book(tmp_path, f"{HEAD}{rules}[why]\n{why_text}\n")
    assert reason in str(error.value)


def test_a_reason_goes_with_its_value(tmp_path: Path) -> None:
    conflict = entry(f"{STEM}.clay", 12, "m", others=other(9, "m", "read"))
    book(tmp_path, f'{HEAD}{conflict}[why]\n"{STEM}.clay" = "the association says so"\n')
    own = HEAD + 'extends = "aa"\n' + entry(f"{STEM}.clay", 11, "m")
    assert why(book(tmp_path, own, "bb")) == {f"{STEM}.clay": ""}
    inherited = book(tmp_path, HEAD + 'extends = "aa"\n', "cc")
    assert why(inherited) == {f"{STEM}.clay": "the association says so"}
    chosen = (Override(rule=f"{STEM}.clay", value=9, unit="m", reason="maker", by="engineer"),)
    (row,) = rule_rows(load_book("aa", chosen, tmp_path))
    assert (row.told, row.why) == ("9 m", "")
    assert row.source.note.startswith("maker; in place of")
    assert [o.number for o in row.others] == [12000, 9000]


def rows(one: RuleBook, two: RuleBook, **more: bool) -> dict[str, ComparedRow]:
    return {row.key: row for row in compared(one, two, **more)}  # type: ignore[arg-type]


def test_two_sets_key_by_key(tmp_path: Path) -> None:
    gone = '[not_covered]\n"tie.apart" = "no such rule here"\n'
    shared = entry("tie.cover", 25.4, "mm") + entry("movement_joint.corner.fraction", 0.5, "ratio")
    metric = shared + entry(f"{STEM}.clay", 12, "m") + entry("tie.apart", 100, "mm", "memory")
    imperial = shared.replace("25.4", "1").replace('unit = "mm"', 'unit = "in"') + entry(f"{STEM}.clay", 40, "ft")
    first = book(tmp_path, HEAD + metric)
    second = book(tmp_path, 'lengths = "feet"\n' + HEAD + imperial + gone, "bb")
    found = rows(first, second)
    assert list(found) == [key for key in in_order() if key in {f"{STEM}.clay", "tie.apart"}]
    clay, apart = found[f"{STEM}.clay"], found["tie.apart"]
    assert [side.told for side in clay.sides] == ["12 m", "40' 0\""]
    assert (clay.held_by, apart.held_by) == ("both", "aa")
    assert apart.sides[1].reason == "no such rule here"
    assert apart.record()["sets"] == {
        "aa": apart.sides[0].record(),
        "bb": {"value": None, "reason": "no such rule here"},
    }
    everything = rows(first, second, everything=True)
    assert set(everything) == set(KEYS)
    assert (everything["tie.cover"].differs, everything["tie.cover"].held_by) == (False, "both")
    assert everything["weep.minimum"].held_by == "none"
    assert not everything["weep.minimum"].differs
    assert [row.key for row in compared(first, second, "", "memory")] == ["tie.apart"]
    assert [row.key for row in compared(first, second, "LEAST bed tie")] == ["tie.apart"]


def test_the_same_rule_in_other_units_is_the_same() -> None:
    assert same_value(25.4, 25.400001)
    assert not same_value(25.4, 25.5)
    assert same_value(((1.0, 2.0),), ((1.0, 2.0000001),))
    assert not same_value(((1.0, 2.0),), ((1.0, 2.0), (3.0, 4.0)))
    assert not same_value("joint", "none")
    assert not same_value(1.0, "joint")


def test_every_key_has_a_subject_and_comes_once() -> None:
    assert sorted(in_order()) == sorted(KEYS)
    assert OTHER not in {subject(key) for key in KEYS}
    assert subject("lintel.load.zone.share") == "What lintels carry"
    assert subject("lintel.bearing.long") == "Lintels"
    assert subject("movement_joint.tolerance") == "Filling and sealing joints"
