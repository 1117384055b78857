"""Which findings stand on the sheet of a leaf, picked by their ids, and what is left of their place there."""

from __future__ import annotations

from dataclasses import replace

from elevgen.drawing.facts import leaf_facts
from elevgen.drawing.schedule_findings import finding_table
from elevgen.result import Design, Finding


def rows(design: Design, leaf: str, *findings: Finding) -> list[str]:
    """The words of the table of warnings of one leaf."""
    facts = next(f for f in leaf_facts(replace(design, findings=findings)) if f.leaf.id == leaf)
    return [row.cells[1] for row in finding_table(facts, "warn", "To look at").rows]


def warned(where: str, text: str, **about: tuple[str, ...]) -> Finding:
    return Finding("F", "tie-spacing", "warn", where, text, **about)


def test_a_finding_about_a_wall_stands_on_the_sheets_of_all_its_leaves(small: Design) -> None:
    finding = warned("W1", "few ties", walls=("W1",))
    assert rows(small, "W1/outer", finding) == rows(small, "W1/inner", finding) == ["few ties"]


def test_a_finding_about_leaves_stands_on_theirs_whatever_its_place_is_called(small: Design) -> None:
    finding = warned("W1/outer 12 to W1/inner 40", "too long", walls=("W1",), leaves=("W1/inner",))
    assert rows(small, "W1/inner", finding) == ["W1/outer 12 to W1/inner 40: too long"]
    assert rows(small, "W1/outer", finding) == []


def test_a_finding_about_another_wall_or_the_building_stands_on_none(small: Design) -> None:
    others = warned("W10", "few ties", walls=("W10",)), warned("building", "W1/outer is mentioned")
    assert rows(small, "W1/outer", *others) == []


def test_a_place_is_said_without_the_leaf_or_wall_the_sheet_is_of(small: Design) -> None:
    of_leaf = {"W1/outer/MJ1": "MJ1: off", "W1/outer sill of A": "sill of A: off", "W1/outer": "off"}
    for where, said in of_leaf.items():
        assert rows(small, "W1/outer", warned(where, "off", walls=("W1",), leaves=("W1/outer",))) == [said]
    assert rows(small, "W1/outer", warned("W1/A+B", "off", walls=("W1",))) == ["A+B: off"]
