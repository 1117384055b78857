"""Sheets: paper, frame, the view at a standard scale, tables in the space that is left, continued on further sheets."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

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
COLUMN, COLUMN_GAP, UNDER_VIEW = 94.0, 3.5, 3.5
LEAST_COLUMN = 22.0
"""A space lower than this holds a heading and two rows at most: not worth running a table through."""
_FLAG_ROOM, _TITLE_ROOM = 8.5, 16.0


class Paper(NamedTuple):
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
    rooms = _rooms(paper_of(design).space, block_height(Board(fonts), leaf_cautions(facts)))

    def guess(scale: int) -> tuple[float, float]:
        height = facts.face.height / scale + below(facts) + _TITLE_ROOM + (_FLAG_ROOM if facts.joints else 0.0)
        return facts.face.width / scale + SIDE_ROOM, height

    return _fitted(design, rooms, guess, lambda scale: elevation(facts, fonts, scale, AID), SCALES)


def fitted_plan(design: Design, leaves: tuple[LeafFacts, ...], fonts: Fonts) -> View:
    """The plan at the largest standard scale, 1:50 or smaller, at which it fits the sheet."""
    rooms = _rooms(paper_of(design).space, block_height(Board(fonts), (AID,)))
    bounds = plan_bounds(design)

    def guess(scale: int) -> tuple[float, float]:
        return bounds.width / scale + MARGIN / 2, bounds.height / scale + MARGIN / 2 + _TITLE_ROOM

    return _fitted(design, rooms, guess, lambda scale: plan_view(design, leaves, fonts, scale, AID), SCALES[2:])


def leaf_sheets(design: Design, facts: LeafFacts, view: View, fonts: Fonts) -> tuple[Sheet, ...]:
    """The setting-out sheet of a leaf, and the sheets its tables run on to."""
    return _sheets(design, view, fonts, schedules(facts), leaf_cautions(facts), facts, "Setting-out elevation")


def plan_sheets(design: Design, view: View, fonts: Fonts) -> tuple[Sheet, ...]:
    """The plan with the table of runs."""
    return _sheets(design, view, fonts, (run_table(design),), (AID,), None, "Setting-out plan")


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


def _rooms(space: Rect, block: float) -> tuple[Rect, Rect]:
    """Where a view may stand on a sheet: over the title block in the whole width, or beside it in the whole height."""
    over = Rect(space.left, space.bottom + block + UNDER_VIEW, space.right, space.top)
    return over, Rect(space.left, space.bottom, space.right - WIDTH - UNDER_VIEW, space.top)


def _fits(width: float, height: float, room: Rect) -> bool:
    return width <= room.width and height <= room.height


def _fitted(
    design: Design,
    rooms: tuple[Rect, Rect],
    guess: Callable[[int], tuple[float, float]],
    draw: Callable[[int], View],
    scales: tuple[int, ...],
) -> View:
    """The view at the first scale at which it fits one of the rooms; only scales at which `guess` does are drawn."""
    wanted = design.spec.sheet.scale or 0
    allowed = sorted({*(s for s in scales if s >= wanted), *((wanted,) if wanted else ())}) or [scales[-1]]
    for scale in allowed:
        if any(_fits(*guess(scale), room) for room in rooms):
            view = draw(scale)
            if any(_fits(view.extents.width / scale, view.extents.height / scale, room) for room in rooms):
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
    window = _window(view, space, block)
    pages: list[Page] = [Page(Board(fonts, source=view.id), _spaces_round(window.paper, space, block))]

    def next_page() -> Page:
        pages.append(Page(Board(fonts, source=view.id), _spaces(space, block)))
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


def _window(view: View, space: Rect, block: float) -> Window:
    """The whole view at the top of the room it fits, in the middle of it."""
    width, height = view.extents.width / view.scale, view.extents.height / view.scale
    over, beside = _rooms(space, block)
    room = over if _fits(width, height, over) or not _fits(width, height, beside) else beside
    left = (room.left + room.right - width) / 2
    return Window(
        view.id, Rect(left, room.top - height, left + width, room.top), (view.extents.left, view.extents.bottom), view.scale
    )


def _spaces_round(window: Rect, space: Rect, block: float) -> tuple[Rect, ...]:
    """Columns for tables under the view, or between it and the right-hand edge where it stands beside the title block."""
    if window.bottom >= space.bottom + block:
        return _spaces(Rect(space.left, space.bottom, space.right, window.bottom), block)
    return _spaces(Rect(space.right - WIDTH - 2.0, space.bottom, space.right, space.top), block)


def _spaces(space: Rect, block: float) -> tuple[Rect, ...]:
    """Columns for tables: as many as there is width for, those over the title block shorter."""
    columns = []
    count = max(1, int((space.width + COLUMN_GAP - 2.0) // (COLUMN + COLUMN_GAP)))
    for n in range(count):
        left = space.left + 2.0 + n * (COLUMN + COLUMN_GAP)
        right = min(left + COLUMN, space.right - 1.0)
        over_block = right > space.right - WIDTH - 2.0
        bottom = space.bottom + (block + 2.0 if over_block else 2.0)
        if space.top - UNDER_VIEW - bottom > LEAST_COLUMN:
            columns.append(Rect(left, bottom, right, space.top - UNDER_VIEW))
    return tuple(columns)
