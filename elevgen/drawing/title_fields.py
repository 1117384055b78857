"""What a sheet's title block says, by name, for a title block that is not ours to draw; and the room it has."""

from __future__ import annotations

from elevgen.core.geometry import Rect
from elevgen.drawing.title_block import FIELDS_HEIGHT, WIDTH, TitleFields, drawing_number
from elevgen.result import Design


def own_title(design: Design, space: Rect, fields: TitleFields) -> tuple[Rect, tuple[tuple[str, str], ...]]:
    """What a sheet tells of its title block: its room in the space inside the frame, and what its fields say."""
    return title_room(space), title_fields(design, fields)


def title_room(space: Rect) -> Rect:
    """Where the fields of a title block stand in the space inside a frame: bottom right, the cautions over them."""
    return Rect(space.right - WIDTH, space.bottom, space.right, space.bottom + FIELDS_HEIGHT)


def title_fields(design: Design, fields: TitleFields) -> tuple[tuple[str, str], ...]:
    """Name and text of every field there is, the common other names of a field included."""
    project, rules = design.spec.project, design.rules
    said = {
        "PROJECT": project.title,
        "PROJECT_NUMBER": project.number,
        "CLIENT": project.client,
        "OWNER": project.client,
        "TITLE": fields.subject,
        "DOCUMENT": fields.document,
        "PART": fields.part,
        "NUMBER": drawing_number(project.number, fields.sheet),
        "DRAWING": fields.sheet.replace("/", "-"),
        "REVISION": project.revision,
        "REV": project.revision,
        "DATE": project.date,
        "SCALE": design.figures.scale(fields.scale),
        "SHEET": f"{fields.number}",
        "SHEETS": f"{fields.of}",
        "SIZE": design.spec.sheet.size,
        "DRAWN": project.drawn_by,
        "DRAWN_BY": project.drawn_by,
        "CHECKED": project.checked_by,
        "CHECKED_BY": project.checked_by,
        "APPROVED": project.approved_by,
        "APPROVED_BY": project.approved_by,
        "DATUM": project.datum,
        "RULES": f"{rules.id} {rules.edition}".strip(),
    }
    return tuple(sorted(said.items()))
