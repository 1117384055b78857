"""Sheets that say why: findings, the rule values behind everything, and the inputs as given."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

from pydantic import BaseModel

from elevgen.core.figures import Figures
from elevgen.core.sourced import Sourced
from elevgen.result import Design, Finding
from elevgen.rules.listing import differing
from elevgen.rules.measurement import Parameter
from elevgen.spec.fields import holds_length
from elevgen.takeoff.model import Takeoff, Thumb
from elevgen.writers._shared import basis_of
from elevgen.writers._xlsx_model import Block, Column, Field, Fields, Sheet, Value, table
from elevgen.writers._xlsx_words import SEVERITY_WORDS, limit_words, quantity_words, unit_words, value_words


def findings(design: Design) -> Sheet:
    """Every finding that is not a pass, worst first; then a line for each check that passed, and in how many places."""
    levels = _levels_wanted(design)
    fields: Fields[Finding] = (
        Field("Kind", 9, "wrap", lambda f: SEVERITY_WORDS[f.severity]),
        Field("Check", 20, "wrap", lambda f: f.code),
        Field("Where", 18, "wrap", lambda f: f.where),
        Field("What was found", 50, "wrap", lambda f: f.text),
        Field("Measured", 11, "wrap", lambda f: _measured(f, f.id in levels, design.figures)),
        Field("Required", 15, "wrap", lambda f: levels.get(f.id) or limit_words(f, design.figures)),
        Field("Source", 28, "wrap", lambda f: f.citation),
        Field("Accepted because", 15, "wrap", lambda f: f.waiver),
        Field("Finding", 18, "wrap", lambda f: f.id),
    )
    listed = table("Findings", fields, (f for f in design.findings if f.severity != "pass"))
    return Sheet(
        "Findings",
        "Worst first, then in how many places a check passed. 'Not checked' means nobody has: the rule set has no value for it.",
        (listed._replace(rows=(*listed.rows, *_passes(design, len(fields)))),),
    )


def _measured(finding: Finding, is_level: bool, figures: Figures) -> str | None:
    if is_level:
        return figures.level(finding.measured or 0.0)
    return quantity_words(finding.measured, finding.unit, figures)


def _levels_wanted(design: Design) -> dict[str, str]:
    """By finding of a level off the courses, the levels that would land on one; by leaf where those of its leaves differ."""
    found, level = {}, design.figures.level
    for finding in design.findings:
        if finding.code != "course-misfit" or finding.measured is None:
            continue
        leaves = finding.leaves or tuple(leaf.id for w in finding.walls for leaf in design.building.leaves_of(w))
        wanted: dict[str, str] = {}
        for leaf in leaves:
            for missed in design.coursing.of(leaf).misfits:
                if abs(missed.level - finding.measured) < 0.05:
                    wanted.setdefault(f"{level(missed.down)} / {level(missed.up)}", design.building.leaf(leaf).side)
        if wanted:
            each = (f"{levels} ({side})" if len(wanted) > 1 else levels for levels, side in wanted.items())
            found[finding.id] = f"one of {'; '.join(each)}"
    return found


def _passes(design: Design, width: int) -> Iterator[tuple[Value, ...]]:
    """A row of the findings' width for each check that passed anywhere."""
    for code, places in Counter(f.code for f in design.findings if f.severity == "pass").items():
        row = (SEVERITY_WORDS["pass"], code, f"{places} place{'s' if places > 1 else ''}")
        yield row + (None,) * (width - len(row))


def basis(design: Design, takeoff: Takeoff) -> Sheet:
    """Every rule value used, its source and how it is known; what other documents have instead; what the set does not cover."""
    used = basis_of(design, takeoff)
    others = [other for value in used for other in differing(design.rules, value)]
    uncovered = tuple(sorted(design.rules.not_covered.items()))
    blocks = (
        Block("Rule values used", _sourced_columns("Value"), tuple(_used_row(value, design) for value in used)),
        *(
            [
                Block(
                    "Other figures, where documents disagree",
                    _sourced_columns("Other figure"),
                    tuple(_sourced_row(other, design.figures, other.note) for other in others),
                )
            ]
            if others
            else []
        ),
        table("How quantities are measured", PARAMETERS, takeoff.measured_by.parameters(design.figures)),
        *((table("Rules of thumb beside our figures, which decide nothing", THUMBS, takeoff.thumbs),) if takeoff.thumbs else ()),
        Block("Not covered by the rule set", (Column("Rule", 38), Column("Why", 24, "wrap")), uncovered),
    )
    purpose = (
        f"Rule set {design.rules.id}, edition {design.rules.edition}. A value 'from memory' is to be checked in your own copy."
    )
    return Sheet("Basis", purpose, blocks)


def _sourced_columns(value: str) -> tuple[Column, ...]:
    return (
        Column("Rule", 38),
        Column(value, 24, "value"),
        Column("Unit", 8),
        Column("Document", 26, "wrap"),
        Column("Edition", 12, "wrap"),
        Column("Clause", 16, "wrap"),
        Column("How it is known", 18, "wrap"),
        Column("Note", 38, "wrap"),
    )


PARAMETERS: Fields[Parameter] = (
    Field("Measurement rule", 38, "wrap", lambda p: p.words),
    Field("As measured", 24, "wrap", lambda p: p.value),
    Field("Name", 8, "wrap", lambda p: p.name),
    Field("Document", 26, "wrap", lambda p: p.source.document if p.source else None),
    Field("Edition", 12, "wrap", lambda p: p.source.edition if p.source else None),
    Field("Clause", 16, "wrap", lambda p: p.source.clause if p.source else None),
    Field("How it is known", 18, "wrap", lambda p: p.known),
    Field("Note", 38, "wrap", lambda p: (p.source.note or None) if p.source else None),
)
AGREES = {True: "agrees to the rule's last digit", False: "differs", None: "not calculated"}
THUMBS: Fields[Thumb] = (
    Field("Of what", 38, "wrap", lambda t: t.item),
    Field("Ours", 24, "value", lambda t: None if t.ours is None else round(t.ours, 5)),
    Field("Unit", 8, "text", lambda t: t.unit),
    Field("Document", 26, "wrap", lambda t: t.source.document),
    Field("Rule of thumb", 12, "value", lambda t: t.rule),
    Field("Beside it", 16, "wrap", lambda t: AGREES[t.agrees]),
    Field("How it is known", 18, "wrap", lambda t: t.source.known),
    Field("Note", 38, "wrap", lambda t: t.source.note or None),
)


def _used_row(value: Sourced, design: Design) -> tuple[Value, ...]:
    """A value with its source; where documents disagree, with why it is the one."""
    why = design.rules.why.get(value.key)
    return _sourced_row(value, design.figures, "; ".join(filter(None, (value.note, why and f"why this one: {why}"))))


def _sourced_row(value: Sourced, figures: Figures, note: str) -> tuple[Value, ...]:
    said, unit = value_words(value, figures), unit_words(value.unit, figures)
    return (value.key, said, unit, value.document, value.edition, value.clause, value.known, note or None)


def inputs(design: Design) -> Sheet:
    """The spec as read, one row a value; lengths as the building's figures are."""
    columns = (Column("Field", 44), Column("Value", 80, "wrap"))
    rows = tuple(_fields(design.spec, "", design.figures))
    purpose = f"What was asked for, as read. {design.figures.note} What is not listed was left to its default."
    return Sheet("Inputs", purpose, (Block("Spec", columns, rows),))


def _fields(model: BaseModel, path: str, figures: Figures) -> Iterator[tuple[str, Value]]:
    """Each value a part of the spec was given, with its path: `walls[0].openings[1].width`."""
    for name, field in type(model).model_fields.items():
        if name in model.model_fields_set:
            at = f"{path}.{name}" if path else name
            yield from _values(getattr(model, name), at, figures, is_length=holds_length(field))


def _values(held: object, path: str, figures: Figures, *, is_length: bool) -> Iterator[tuple[str, Value]]:
    if isinstance(held, BaseModel):
        yield from _fields(held, path, figures)
    elif isinstance(held, Mapping):
        for key, value in held.items():
            yield from _values(value, f"{path}.{key}", figures, is_length=is_length)
    elif isinstance(held, list | tuple):
        for index, value in enumerate(held):
            yield from _values(value, f"{path}[{index}]", figures, is_length=is_length)
    elif is_length and figures.in_feet and isinstance(held, int | float) and not isinstance(held, bool):
        yield path, figures.length(held)
    elif held is None or isinstance(held, str | int | float):
        yield path, held
