"""The plan's sheets: the plan with what the whole building is listed in, and the corners at a large scale."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from elevgen.building.model import Run
from elevgen.core.figures import Figures
from elevgen.core.geometry import Rect, at_most
from elevgen.drawing.board import Board
from elevgen.drawing.cautions import AID
from elevgen.drawing.corner_details import Detail, Details
from elevgen.drawing.corner_view import common_note, corner_view
from elevgen.drawing.corners import corners_of
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.font import LINE_PITCH, Fonts
from elevgen.drawing.plan_runs import Developed, Unbroken, place_words, unbroken
from elevgen.drawing.scales import detail_scales
from elevgen.drawing.scene import Role, Sheet, View, Window
from elevgen.drawing.sheet import FRAME_CLEAR, UNDER_VIEW, Paper, paper_of, view_sheets
from elevgen.drawing.tables import Column, Row, Table
from elevgen.drawing.title_block import WIDTH, TitleFields, block_height, draw_title_block
from elevgen.drawing.title_fields import own_title
from elevgen.result import Design

CORNERS = "corners"
MANY = 16
"""More walls than these are not named one by one in the table of runs."""
GAP = 4.5
"""Between drawings of corners on a sheet, paper mm."""
NOTE_SIZE, NOTE_IN = 2.0, 2.0
"""What is said of all corners, in the sheet's lower left: its text, and how far it stands in from the frame; paper mm."""


class Drawn(NamedTuple):
    """An elevation and how many sheets it takes with its tables."""

    view: View
    sheets: int


def plan_sheets(
    design: Design, view: View, fonts: Fonts, leaves: tuple[LeafFacts, ...], drawn: Mapping[str, Drawn], corners: Table
) -> tuple[Sheet, ...]:
    """The plan with the tables of runs, walls, corners and joints."""
    tables = (run_table(design), wall_table(design, leaves, drawn), corners, joint_table(design))
    return view_sheets(design, view, fonts, tables, "Setting-out plan")


def run_table(design: Design) -> Table:
    """Every run of tied masonry: how long, whether it closes, what its joints part it into, and the longest of that."""
    written = design.figures
    placed = {p.run: p for p in design.plan.placements}
    longest = unbroken(design)
    columns = (
        Column("Run", 10),
        Column("length", 17, "right"),
        Column("closed", 14),
        Column("joints", 13, "right"),
        Column("pieces", 14, "right"),
        Column("longest without a joint", 44),
        Column("walls", 26),
    )
    rows = []
    for run in design.runs:
        piece = longest[run.id]
        ends = [place_words(design, leaf, at, written.length(at)) for leaf, at in (piece.way.start, piece.way.end)]
        allowed = _against(design, run, piece)
        least = "" if piece.way.exact else "at least "
        where = "all round" if piece.way.closed else f"{ends[0]} to {ends[1]}"
        walls = list(dict.fromkeys(leaf.split("/")[0] for leaf in run.leaves))
        through = ", ".join(walls) if len(walls) <= MANY else f"{len(walls)} walls, {walls[0]} to {walls[-1]}"
        joints = f"{len(placed[run.id].joints)}" if run.id in placed else "–"
        told = f"{least}{written.run(piece.way.length)}, {where}{allowed}{_longer(written, piece)}"
        cells = (
            run.id,
            written.run(run.length),
            "ring" if run.closed else "no",
            joints,
            f"{piece.pieces}",
            told,
            through,
        )
        rows.append(Row(cells, run.id))
    return Table("Runs of masonry tied together", columns, tuple(rows))


def _against(design: Design, run: Run, piece: Unbroken) -> str:
    """The limit the longest masonry without a joint is held against: the greatest where a check fails, else the usual one."""
    written = design.figures
    failed = [
        f for f in design.findings if f.code == "joint-spacing" and f.severity == "fail" and set(f.leaves) <= set(run.leaves)
    ]
    if limits := [f.limit for f in failed if f.limit is not None]:
        return f"; FAILS, over the greatest {written.run(min(limits))}"
    if piece.allowed is None:
        return ""
    over = not at_most(piece.way.length, piece.allowed)
    return f"; {'OVER the usual limit' if over else 'usual limit'} {written.run(piece.allowed)}"


def _longer(written: Figures, piece: Unbroken) -> str:
    """The longest masonry without a joint where it is allowed more than that which comes nearest to its limit."""
    way = piece.longest
    if way is None:
        return ""
    limit = f" where {written.run(way.allowed)} is usual" if way.allowed < float("inf") else ""
    return f"; elsewhere up to {written.run(way.length)}{limit}"


def wall_table(design: Design, leaves: tuple[LeafFacts, ...], drawn: Mapping[str, Drawn]) -> Table:
    """Every wall, what it measures, and where it is drawn."""
    written = design.figures
    named = any(wall.name for wall in design.building.walls)
    names = (Column("name", 24),) if named else ()
    plain = Column("Wall", 10), Column("type", 16), Column("length", 13, "right"), Column("height", 13, "right")
    columns = (plain[0], *names, *plain[1:], Column("drawn on", 44))
    rows = []
    for wall in design.building.walls:
        faces = [facts.face for facts in leaves if facts.wall.id == wall.id]
        height = max(face.top for face in faces) - min(face.bottom for face in faces)
        where: dict[str, list[str]] = {}
        for leaf in wall.leaves:
            more = f", {drawn[leaf].sheets} sheets each" if drawn[leaf].sheets > 1 else ""
            where.setdefault(f"{written.scale(drawn[leaf].view.scale)}{more}", []).append(leaf)
        told = "; ".join(f"{', '.join(ids)} ({how if len(ids) > 1 else how.removesuffix(' each')})" for how, ids in where.items())
        sizes = written.length(wall.length), written.length(height)
        rows.append(Row((wall.id, *((wall.name,) if named else ()), wall.type, *sizes, told), wall.id))
    return Table("Walls, and the drawings of this set", columns, tuple(rows))


def corner_table(details: Details, sheets: Sequence[Sheet]) -> Table:
    """Every corner: on which sheet it is drawn, or which other it is like."""
    on = {window.view: sheet.id for sheet in sheets for window in sheet.windows}
    rows: list[tuple[str, str, str, str]] = []
    for detail in details.drawn:
        corner, sheet = detail.corner, on[detail.corner.id]
        rows.append((corner.name, f"{corner.kind}, drawn", sheet, corner.id))
        rows += [(name, f"as {corner.name}", sheet, corner.id) for name in detail.alike]
        rows += [(name, f"as {corner.name}, courses 1 and 2 change places", sheet, corner.id) for name in detail.changed]
    rows += [(name, "not drawn: there are too many different ones; see the elevations", "", "plan") for name in details.left_out]
    columns = (Column("Corner", 20), Column("drawing", 60), Column("sheet", 18))
    return Table("First courses round the corners", columns, tuple(Row(row[:3], row[3]) for row in rows))


def joint_table(design: Design) -> Table:
    """Every movement joint, wall by wall."""
    written = design.figures
    runs = [Developed(run) for run in design.runs]
    columns = (
        Column("Joint", 14),
        Column("leaf", 22),
        Column("from start", 18, "right"),
        Column("run", 9),
        Column("along run", 18, "right"),
        Column("width", 12, "right"),
    )
    order = {leaf.id: n for n, leaf in enumerate(design.building.leaves)}
    rows = []
    for joint in sorted(design.plan.joints, key=lambda j: (order[j.leaf], j.at)):
        passing = ((r.run.id, along) for r in runs if (along := r.along(joint.leaf, joint.at)) is not None)
        run, along = next(passing, ("", None))
        far = "" if along is None else written.run(along)
        cells = (joint.id, joint.leaf, written.length(joint.at), run, far, written.length(joint.width.built))
        rows.append(Row(cells, joint.id))
    return Table("Movement joints, wall by wall", columns, tuple(rows))


def corner_views(design: Design, details: Details, fonts: Fonts) -> tuple[View, ...]:
    """Every different corner, at the largest scale at which it fits the sheet."""
    room, _ = _room(paper_of(design), block_height(Board(fonts), (AID,)), fonts, common_note(design))
    return tuple(_fitted(design, detail, fonts, room) for detail in details.drawn)


def corner_sheets(design: Design, views: Sequence[View], fonts: Fonts) -> tuple[Sheet, ...]:
    """The corners in rows, on as many sheets as they take. What is to be said of all of them is said once on each."""
    paper, common = paper_of(design), common_note(design)
    pages = list(_packed(views, *_room(paper, block_height(Board(fonts), (AID,)), fonts, common)))
    points = {corner.id: (corner.name, corner.point) for corner in corners_of(design.building)}
    sheets = []
    for n, windows in enumerate(pages, start=1):
        board = Board(fonts, source=CORNERS)
        board.rectangle(Role.FRAME, paper.space)
        title = "First courses round the corners"
        fields = TitleFields(CORNERS, title, n, len(pages), max(w.scale for w in windows), "Setting-out details")
        places = tuple(points[window.view] for window in windows if window.view in points)
        draw_title_block(board, (paper.space.right, paper.space.bottom), design, fields, (AID,), None, places)
        y = paper.space.bottom + NOTE_IN + _note_height(paper, fonts, common) - NOTE_SIZE
        board.paragraph(Role.TEXT, (paper.space.left + NOTE_IN, y), common, _note_width(paper), NOTE_SIZE)
        name, said = (CORNERS, title) if n == 1 else (f"{CORNERS}-{n}", f"{title}, sheet {n}")
        drawn = (tuple(board.primitives), *own_title(design, paper.space, fields))
        sheets.append(Sheet(name, said, paper.width, paper.height, windows, *drawn))
    return tuple(sheets)


def _note_width(paper: Paper) -> float:
    return max(paper.space.width - WIDTH - 2 * NOTE_IN, 40.0)


def _note_height(paper: Paper, fonts: Fonts, common: str) -> float:
    return len(fonts.wrap(common, NOTE_SIZE, _note_width(paper))) * NOTE_SIZE * LINE_PITCH


def _room(paper: Paper, block: float, fonts: Fonts, common: str) -> tuple[Rect, Rect]:
    """Where corners may stand: over the title block in the whole width, and under that beside it, over the note."""
    space = paper.space
    left, top = space.left + UNDER_VIEW, space.top - FRAME_CLEAR
    over = Rect(left, space.bottom + block + UNDER_VIEW, space.right - UNDER_VIEW, top)
    low = space.bottom + NOTE_IN + _note_height(paper, fonts, common) + UNDER_VIEW
    return over, Rect(left, low, max(space.right - WIDTH - UNDER_VIEW, left), top)


def _fitted(design: Design, detail: Detail, fonts: Fonts, room: Rect) -> View:
    largest, *smaller = detail_scales(design.figures)
    view = corner_view(design, detail, fonts, largest)
    for scale in smaller:
        shown = _shown(view)
        if shown.width / view.scale <= room.width and shown.height / view.scale <= room.height:
            break
        view = corner_view(design, detail, fonts, scale)
    return view


def _shown(view: View) -> Rect:
    """What a sheet shows of a corner: not what it says itself, once for all."""
    return view.shown or view.extents


def _packed(views: Sequence[View], room: Rect, beside: Rect) -> Iterator[tuple[Window, ...]]:
    """The windows of each sheet: views side by side in rows, in their order, each row as high as its highest.

    The last row may reach down beside the title block.
    """
    page: list[Window] = []
    x, top, lowest = room.left, room.top, room.top
    for view in views:
        shown = _shown(view)
        width, height = shown.width / view.scale, shown.height / view.scale

        def holds(left: float, high: float, width: float = width, height: float = height) -> bool:
            return any(left + width <= r.right and high - height >= r.bottom for r in (room, beside))

        if x > room.left and not holds(x, top):
            x, top = room.left, lowest - GAP
        if page and not holds(x, top):
            yield tuple(page)
            page, x, top, lowest = [], room.left, room.top, room.top
        paper = Rect(x, top - height, x + width, top)
        page.append(Window(view.id, paper, (shown.left, shown.bottom), view.scale))
        x, lowest = x + width + GAP, min(lowest, top - height)
    if page:
        yield tuple(page)
