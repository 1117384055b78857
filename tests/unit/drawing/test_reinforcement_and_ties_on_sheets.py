"""Reinforcement, ties and trays in few rows: what the rows say, read back, is what is in the wall."""

import re
from collections import Counter

import pytest
from reading import NUMBER, built, courses_of, places_of

from elevgen.core.geometry import Span
from elevgen.drawing.compose import compose
from elevgen.drawing.facts import leaf_facts
from elevgen.drawing.scene import Line, Role, Text
from elevgen.drawing.schedule_damp import tray_lines
from elevgen.drawing.schedule_reinforcement import reinforcement_table
from elevgen.drawing.schedule_ties import tie_table, ties_on
from elevgen.fittings.model import Tray
from elevgen.result import Design


@pytest.fixture(scope="module")
def all_over() -> Design:
    """Reinforced in every third bed, round a corner, with a joint and an opening."""
    walls: list[dict[str, object]] = [
        {
            "id": "W1",
            "start": [0, 0],
            "end": [9665, 0],
            "joints": [{"at": 5520}],
            "openings": [{"id": "A", "kind": "window", "at": 7115, "width": 1135, "sill": 675, "height": 1050}],
        },
        {"id": "W2", "start": [9665, 0], "end": [9665, 3140]},
    ]
    leaf = {"zones": [{"unit": "facing"}], "reinforced_every": 225}
    return built(walls, leaves={"brick": leaf})


@pytest.fixture(params=["all_over", "studio", "duplex"])
def design(request: pytest.FixtureRequest) -> Design:
    made: Design = request.getfixturevalue(request.param)
    return made


def test_the_rows_tell_every_length_once_with_its_laps(design: Design) -> None:
    for facts in leaf_facts(design):
        told: Counter[tuple[int, int, int, str]] = Counter()
        for row in reinforcement_table(facts).rows:
            courses, start, end, _, laps, _ = row.cells
            for course in courses_of(courses):
                told[course, int(start), int(end), _on(laps, course)] += 1
        wanted: Counter[tuple[int, int, int, str]] = Counter()
        for bed in design.fittings.bed_reinforcement:
            if bed.leaf == facts.leaf.id:
                laps = ", ".join(f"{lap.start:.0f}" for lap in bed.lap_at) or "none"
                wanted[bed.course, int(f"{bed.span.start:.0f}"), int(f"{bed.span.end:.0f}"), laps] += 1
        assert told == wanted


def _on(words: str, course: int) -> str:
    """What is said of one course where it differs from course to course."""
    if " on " not in words:
        return words
    parts = [part.rpartition(" on ") for part in words.split("; ")]
    (said,) = [laps for laps, _, courses in parts if course in courses_of(courses)]
    return said


def test_beds_alike_have_one_row_and_one_label_a_series(all_over: Design) -> None:
    facts = leaf_facts(all_over)[0]
    beds = sum(len(group.lengths) for group in facts.reinforced)
    assert len(reinforcement_table(facts).rows) == len(facts.reinforced) < beds / 2
    view = compose(all_over).view("W1/outer")
    lines = [p for p in view.primitives if isinstance(p, Line) and p.role is Role.BED_REINFORCEMENT]
    assert sum("lap" not in p.title for p in lines) == beds
    labels = [p.text for p in view.primitives if isinstance(p, Text) and p.role is Role.BED_REINFORCEMENT]
    assert labels and len(labels) <= sum(len(group.series) for group in facts.reinforced)
    for label in (text for text in labels if not text.startswith("(")):
        found = re.fullmatch(rf"beds? ([^:]+)(?:: ({NUMBER}) to ({NUMBER})(?:, returns into W\d)?)?", label)
        assert found, label
        span = (int(found[2]), int(found[3])) if found[2] else None
        alike = [g for g in facts.reinforced if span in (None, (round(g.span.start), round(g.span.end)))]
        assert any(set(courses_of(found[1])) <= set(group.numbers) for group in alike), label


def beds_of(words: str) -> dict[str, list[str]]:
    """`9, 11; outer leaf 6; +1.200` as the courses of this leaf (""), those of another by its side, and levels ("level")."""
    found: dict[str, list[str]] = {}
    for part in words.split("; "):
        side, _, others = part.partition(" leaf ")
        if part.startswith(("+", "-", "±")):
            found.setdefault("level", []).append(part)
        else:
            found[side if others else ""] = [f"{n}" for n in courses_of(others or part)]
    return found


def test_a_tie_in_no_bed_of_its_leaf_is_told_by_the_courses_of_the_other(duplex: Design) -> None:
    """Beds of the duplex's two leaves seldom meet: the ties lie in those of the outer one, at the levels of its courses."""
    facts = next(f for f in leaf_facts(duplex) if f.leaf.id == "W1/inner")
    tops = {f"{c.number}": c.top for c in next(c for c in duplex.coursing.leaves if c.leaf == "W1/outer").courses}
    told = {n for row in tie_table(facts).rows for n in beds_of(row.cells[1]).get("outer", [])}
    assert told and not any("level" in beds_of(row.cells[1]) for row in tie_table(facts).rows)
    levels = {round(tie.level) for tie in ties_on(facts)}
    assert all(any(0 <= level - tops[n] <= 15.0 for level in levels) for n in told)


def test_the_rows_tell_every_tie_once(design: Design) -> None:
    for facts in leaf_facts(design):
        tops = {c.number: c.top for c in facts.coursing.courses}
        told: Counter[tuple[str, int]] = Counter()
        kind = ""
        for row in tie_table(facts).rows:
            kind = row.cells[0] or kind
            at = places_of(row.cells[2])
            of = beds_of(row.cells[1])
            rows = sum(map(len, of.values()))
            assert int(row.cells[3]) == rows * len(at)
            assert set(of.get("", [])) <= {f"{n}" for n in tops}
            told.update({(kind, round(x)): rows for x in at})
        wanted = Counter((tie.kind, round(tie.at)) for tie in ties_on(facts))
        assert sum(told.values()) == sum(wanted.values()) == len(ties_on(facts))
        assert sorted(Counter(k for k, _ in told.elements()).values()) == sorted(
            Counter(k for k, _ in wanted.elements()).values()
        )


def tray(number: int, kind: str, start: float, level: float) -> Tray:
    return Tray(f"W1/outer/T{number}", "W1", "", level, Span(start, start + 400), 1, (start,), (), kind=kind)  # type: ignore[arg-type]


def test_trays_that_step_down_one_line_go_together() -> None:
    down = [tray(n, "step", 300.0 * n, 3000 - 150.0 * n) for n in range(5)]
    up = [tray(n, "step", 300.0 * n, 2400 + 150.0 * (n - 5)) for n in range(6, 9)]
    far = [tray(20, "step", 9000.0, 1500.0)]
    over = [tray(30, "opening", 350.0, 2100.0)]
    lines = [[t.id.split("T")[1] for t in line] for line in tray_lines((*over, *up, *far, *down))]
    assert lines == [["0", "1", "2", "3", "4"], ["6", "7", "8"], ["20"], ["30"]]
