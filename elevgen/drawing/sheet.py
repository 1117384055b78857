"""Sheets: paper, frame, the view at a standard scale, tables in the space that is left, continued on further sheets."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from elevgen.core.geometry import Rect
from elevgen.core.measures import metres
from elevgen.drawing.board import Board
from elevgen.drawing.cautions import AID, leaf_cautions
from elevgen.drawing.dims import below
from elevgen.drawing.elevation import SIDE_ROOM, elevation
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.font import Fonts
from elevgen.drawing.plan import MARGIN, plan_bounds, plan_view
from elevgen.drawing.scene import Role, Sheet, View, Window
from elevgen.drawing.schedules import schedules
from elevgen.drawing.tables import Column, Page, Row, Table, flow
from elevgen.drawing.title_block import WIDTH, TitleFields, block_height, draw_title_block
from elevgen.result import Design

PAPERS = {"A4": (297.0, 210.0), "A3": (420.0, 297.0), "A2": (594.0, 420.0), "A1": (841.0, 594.0), "A0": (1189.0, 841.0)}
"""Trimmed sizes, landscape, mm."""
FILING_MARGIN, OTHER_MARGIN = 20.0, 10.0
SCALES = (10, 20, 50, 100, 200, 500, 1000)
"""The scales there are for drawings made smaller (ISO 5455, from memory)."""
COLUMN, COLUMN_GAP, UNDER_VIEW = 94.0, 3.5, 4.0
_FLAG_ROOM, _TITLE_ROOM = 8.5, 16.0


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet size and the space inside its frame."""

    width: float
    height: float

    @property
    def space(self) -> Rect:
        return Rect(FILING_MARGIN, OTHER_MARGIN, self.width - OTHER_MARGIN, self.height - OTHER_MARGIN)


def paper_of(design: Design) -> Paper:
    """The paper the spec asks for, landscape."""
    return Paper(*PAPERS[design.spec.sheet.size])


def fitted_elevation(design: Design, facts: LeafFacts, fonts: Fonts) -> View:
    """The elevation at the largest standard scale, or the spec's or the next smaller one, at which it fits the sheet."""
    room = _view_room(design, leaf_cautions(facts), fonts)

    def guess(scale: int) -> bool:
        width = facts.face.width / scale + SIDE_ROOM
        height = facts.face.height / scale + below(facts) + _TITLE_ROOM + (_FLAG_ROOM if facts.joints else 0.0)
        return width <= room.width and height <= room.height

    return _fitted(design, room, guess, lambda scale: elevation(facts, fonts, scale, AID), SCALES)


def fitted_plan(design: Design, leaves: tuple[LeafFacts, ...], fonts: Fonts) -> View:
    """The plan at the largest standard scale, 1:50 or smaller, at which it fits the sheet."""
    room, bounds = _view_room(design, (AID,), fonts), plan_bounds(design)

    def guess(scale: int) -> bool:
        return bounds.width / scale + MARGIN <= room.width and bounds.height / scale + MARGIN + _TITLE_ROOM <= room.height

    return _fitted(design, room, guess, lambda scale: plan_view(design, leaves, fonts, scale, AID), SCALES[2:])


def leaf_sheets(design: Design, facts: LeafFacts, view: View, fonts: Fonts) -> tuple[Sheet, ...]:
    """The setting-out sheet of a leaf, and the sheets its tables run on to."""
    return _sheets(design, view, fonts, schedules(facts), leaf_cautions(facts), facts, "Setting-out elevation")


def plan_sheets(design: Design, view: View, fonts: Fonts) -> tuple[Sheet, ...]:
    """The plan with the table of runs."""
    return _sheets(design, view, fonts, (run_table(design), leaf_table(design)), (AID,), None, "Setting-out plan")


def run_table(design: Design) -> Table:
    """Every run of tied masonry: how long, through which walls, how many joints."""
    placed = {p.run: p for p in design.plan.placements}
    columns = (
        Column("Run", 12),
        Column("length", 16, "right"),
        Column("closed", 11),
        Column("joints", 10, "right"),
        Column("leaves", 50),
    )
    rows = []
    for run in design.runs:
        joints = f"{len(placed[run.id].joints)}" if run.id in placed else "–"
        closed = "ring" if run.closed else "no"
        rows.append(Row((run.id, f"{metres(run.length)} m", closed, joints, ", ".join(run.leaves)), run.id))
    return Table("Runs of masonry tied together", columns, tuple(rows))


def leaf_table(design: Design) -> Table:
    """Every leaf: length, height, courses."""
    coursing = {c.leaf: c for c in design.coursing.leaves}
    columns = (Column("Leaf", 22), Column("length", 14, "right"), Column("height", 14, "right"), Column("courses", 12, "right"))
    rows = tuple(
        Row(
            (leaf.id, f"{metres(leaf.span.length)} m", f"{metres(leaf.height)} m", f"{len(coursing[leaf.id].courses)}"),
            leaf.id,
        )
        for leaf in design.building.leaves
    )
    return Table("Leaves", columns, rows)


def _view_room(design: Design, cautions: tuple[str, ...], fonts: Fonts) -> Rect:
    """The part of a sheet a view may fill: all but the title block's height."""
    space = paper_of(design).space
    return Rect(space.left, space.bottom + block_height(Board(fonts), cautions) + UNDER_VIEW, space.right, space.top)


def _fitted(
    design: Design, room: Rect, guess: Callable[[int], bool], draw: Callable[[int], View], scales: tuple[int, ...]
) -> View:
    wanted = design.spec.sheet.scale or 0
    allowed = sorted({*(s for s in scales if s >= wanted), *((wanted,) if wanted else ())}) or [scales[-1]]
    for scale in allowed:
        if not guess(scale):
            continue
        view = draw(scale)
        if view.extents.width / scale <= room.width and view.extents.height / scale <= room.height:
            return view
    return draw(allowed[-1])


def _sheets(
    design: Design,
    view: View,
    fonts: Fonts,
    tables: tuple[Table, ...],
    cautions: tuple[str, ...],
    key: LeafFacts | None,
    document: str,
) -> tuple[Sheet, ...]:
    paper = paper_of(design)
    space = paper.space
    block = block_height(Board(fonts), cautions)
    window = _window(view, space)
    pages: list[Page] = [Page(Board(fonts, source=view.id), _spaces(space, window.paper.bottom - UNDER_VIEW, block))]

    def next_page() -> Page:
        pages.append(Page(Board(fonts, source=view.id), _spaces(space, space.top - UNDER_VIEW, block)))
        return pages[-1]

    flow(tables, pages[0], next_page)
    sheets = []
    for n, page in enumerate(pages, start=1):
        page.board.rectangle(Role.FRAME, space)
        fields = TitleFields(view.id, view.title, n, len(pages), view.scale, document)
        draw_title_block(page.board, (space.right, space.bottom), design, fields, cautions, key)
        name = view.id if n == 1 else f"{view.id}-{n}"
        title = view.title if n == 1 else f"{view.title}, sheet {n}"
        windows = (window,) if n == 1 else ()
        sheets.append(Sheet(name, title, paper.width, paper.height, windows, tuple(page.board.primitives)))
    return tuple(sheets)


def _window(view: View, space: Rect) -> Window:
    """The whole view, at the top of the sheet, in the middle."""
    width, height = view.extents.width / view.scale, view.extents.height / view.scale
    left = (space.left + space.right - width) / 2
    top = space.top - 1.0
    return Window(view.id, Rect(left, top - height, left + width, top), (view.extents.left, view.extents.bottom), view.scale)


def _spaces(space: Rect, top: float, block: float) -> tuple[Rect, ...]:
    """Columns for tables: as many as there is width for, those over the title block shorter."""
    columns = []
    x = space.left + 2.0
    while x + COLUMN <= space.right:
        over_block = x + COLUMN > space.right - WIDTH - 2.0
        bottom = space.bottom + (block + 2.0 if over_block else 2.0)
        if top - bottom > 12.0:
            columns.append(Rect(x, bottom, x + COLUMN, top))
        x += COLUMN + COLUMN_GAP
    return tuple(columns)
