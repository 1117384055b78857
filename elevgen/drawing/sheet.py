"""Sheets: paper, frame, the view at a standard scale, tables in the space that is left, continued on further sheets."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from elevgen.core.geometry import Rect
from elevgen.drawing.board import Board
from elevgen.drawing.cautions import AID, cautions, plan_cautions
from elevgen.drawing.dims import below
from elevgen.drawing.elevation import SIDE_ROOM, elevation
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.font import Fonts
from elevgen.drawing.left_out import left_out_table
from elevgen.drawing.match_lines import match_lines
from elevgen.drawing.part_sheets import Part, draw_part, lay_parts, longest_part
from elevgen.drawing.plan import MARGIN, plan_bounds, plan_view
from elevgen.drawing.scales import plan_scales, scales, smallest_whole
from elevgen.drawing.scene import Role, Sheet, View, Window
from elevgen.drawing.schedules import schedules
from elevgen.drawing.tables import Page, Table, flow
from elevgen.drawing.title_block import WIDTH, TitleFields, block_height, draw_title_block
from elevgen.drawing.title_fields import own_title
from elevgen.result import Design

ISO_PAPERS = {"A4": (297.0, 210.0), "A3": (420.0, 297.0), "A2": (594.0, 420.0), "A1": (841.0, 594.0), "A0": (1189.0, 841.0)}
INCH_PAPERS = {"Letter": (279.4, 215.9), "Tabloid": (431.8, 279.4), "ARCH C": (609.6, 457.2), "ARCH D": (914.4, 609.6)}
PAPERS = ISO_PAPERS | INCH_PAPERS
"""Trimmed sizes, landscape, mm; in inches 11 x 8 1/2, 17 x 11, 24 x 18 and 36 x 24 (common practice, no source)."""
FILING_MARGIN, OTHER_MARGIN = 20.0, 10.0
LEAST_WIDE, COLUMN_GAP, UNDER_VIEW = 80.0, 3.5, 3.5
"""Columns of tables: the narrowest, and the gaps beside and over them."""
LEAST_HIGH = 22.0
"""A space lower than this holds a heading and two rows at most: not worth running a table through."""
FRAME_CLEAR = 2.5
"""From the frame to what is drawn at the top of the sheet."""
LEAST_PART = 30.0
"""A part of a wall narrower than this on paper is not worth its sheet."""
_FLAG_ROOM, _TITLE_ROOM = 8.5, 16.0
_MORE_TITLE = 8.0
"""What a title takes more under a part than under the whole wall, wrapped to its width, paper mm."""


Guess = Callable[[int], tuple[float, float]]
"""About how much paper a view takes at a scale, without drawing it: width and height."""


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
    """The elevation at the largest standard scale at which it fits the sheet, but in parts rather than small (`smallest_whole`).

    Where the spec asks for a scale it is that, in parts if need be. Smaller only where the wall is too high for the sheet.
    """
    block = block_height(Board(fonts), cautions(design, facts.leaf.id))
    rooms = _rooms(paper_of(design).space, block)
    wanted = design.spec.sheet.scale or 0

    def notes(scale: int) -> tuple[str, ...]:
        return (*_scale_asked_for(design, scale), *_larger_paper(design, facts, scale, block), AID)

    allowed = _scales(design, scales(design.figures))
    for scale in allowed:
        width, height = facts.face.width / scale + SIDE_ROOM, _guessed_height(facts, scale)
        if any(_fits(width, height, room) for room in rooms):
            view = elevation(facts, fonts, scale, notes(scale), (), rooms)
            if any(_fits(view.extents.width / scale, view.extents.height / scale, room) for room in rooms):
                return view
        if scale >= (wanted or smallest_whole(design.figures)):
            view_in_parts = next((v for room in rooms if (v := _in_parts(facts, fonts, scale, notes(scale), room))), None)
            if view_in_parts:
                return view_in_parts
    views = [elevation(facts, fonts, scale, notes(scale)) for scale in allowed]
    return min(views, key=lambda view: min(_past(view, room) for room in rooms))


def _past(view: View, room: Rect) -> float:
    """How far a view reaches past a room, mm."""
    return max(view.extents.width / view.scale - room.width, view.extents.height / view.scale - room.height)


def _guessed_height(facts: LeafFacts, scale: int) -> float:
    return facts.face.height / scale + below(facts) + _TITLE_ROOM + (_FLAG_ROOM if facts.joints else 0.0)


def _in_parts(facts: LeafFacts, fonts: Fonts, scale: int, notes: tuple[str, ...], room: Rect) -> View | None:
    """The elevation parted at match lines, each part as wide as the room; None where the room is too low or too narrow."""
    longest = longest_part(facts, fonts, scale, room.width)
    if _guessed_height(facts, scale) > room.height or longest < LEAST_PART * scale:
        return None
    high = Rect(0.0, 0.0, facts.face.width, room.height - _MORE_TITLE)
    view = elevation(facts, fonts, scale, notes, match_lines(facts, fonts, scale, longest), (high,))
    laid = lay_parts(view, facts, fonts, room)
    return view if all(_fits(part.box.width, part.box.height, room) for part in laid) else None


def fitted_plan(design: Design, leaves: tuple[LeafFacts, ...], fonts: Fonts) -> View:
    """The plan at the largest standard scale of plans at which it fits the sheet."""
    bounds = plan_bounds(design)

    def guess(scale: int) -> tuple[float, float]:
        return bounds.width / scale + MARGIN / 2, bounds.height / scale + MARGIN / 2 + _TITLE_ROOM

    def draw(scale: int) -> View:
        return plan_view(design, leaves, fonts, scale, (*_scale_asked_for(design, scale), AID))

    return _fitted(design, block_height(Board(fonts), plan_cautions(design)), guess, draw, plan_scales(design.figures))


def _scale_asked_for(design: Design, scale: int) -> Iterator[str]:
    """That a view is not drawn at the scale the spec asks for, and why."""
    sheet, said = design.spec.sheet, design.figures.scale
    if sheet.scale and sheet.scale != scale:
        yield f"Asked for {said(sheet.scale)}, drawn at {said(scale)}: too large for {sheet.size}."


def _larger_paper(design: Design, facts: LeafFacts, scale: int, block: float) -> Iterator[str]:
    """That a wall is too high to be drawn well, and the paper on which it is not."""
    least = smallest_whole(design.figures)
    if scale <= least or design.spec.sheet.scale == scale:
        return
    high = _guessed_height(facts, least)
    own, named = PAPERS[design.spec.sheet.size], ISO_PAPERS if design.spec.sheet.size in ISO_PAPERS else INCH_PAPERS
    papers = (n for n, size in named.items() if size > own and any(high <= r.height for r in _rooms(Paper(*size).space, block)))
    larger = next((f"; {name} takes {design.figures.scale(least)}" for name in papers), "")
    yield f"Too high to be drawn larger on {design.spec.sheet.size}{larger}. Take positions and sizes from the tables."


def leaf_sheets(design: Design, facts: LeafFacts, view: View, fonts: Fonts) -> tuple[Sheet, ...]:
    """The setting-out sheet of a leaf, and the sheets its tables run on to."""
    tables = (*schedules(facts, view), left_out_table(view.left_out, facts.figures))
    return _sheets(design, view, fonts, tables, cautions(design, facts.leaf.id), facts, "Setting-out elevation")


def view_sheets(design: Design, view: View, fonts: Fonts, tables: tuple[Table, ...], document: str) -> tuple[Sheet, ...]:
    """The sheets of a view that is no leaf's, and of its tables."""
    return _sheets(design, view, fonts, tables, plan_cautions(design), None, document)


def _rooms(space: Rect, block: float) -> tuple[Rect, Rect]:
    """Where a view may stand on a sheet: over the title block in the whole width, or beside it in the whole height."""
    top = space.top - FRAME_CLEAR
    over = Rect(space.left, space.bottom + block + UNDER_VIEW, space.right, top)
    return over, Rect(space.left, space.bottom, space.right - WIDTH - UNDER_VIEW, top)


def _fits(width: float, height: float, room: Rect) -> bool:
    return width <= room.width and height <= room.height


def _scales(design: Design, scales: tuple[int, ...]) -> list[int]:
    """The scales to try, the largest drawing first: the one asked for and those smaller, or all."""
    wanted = design.spec.sheet.scale or 0
    return sorted({*(s for s in scales if s >= wanted), *((wanted,) if wanted else ())}) or [scales[-1]]


def _fitted(design: Design, block: float, guess: Guess, draw: Callable[[int], View], scales: tuple[int, ...]) -> View:
    """The view at the first scale at which it fits one of the rooms; only scales at which `guess` does are drawn."""
    rooms = _rooms(paper_of(design).space, block)
    allowed = _scales(design, scales)
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
    said: tuple[str, ...],
    key: LeafFacts | None,
    document: str,
) -> tuple[Sheet, ...]:
    paper = paper_of(design)
    space = paper.space
    block = block_height(Board(fonts), said)
    parted = _laid_parts(view, key, fonts, space, block)
    pages, windows = _parted_pages(parted, view, key, tables, fonts, space, block) if parted and key else ([], ())
    if not parted:
        pages, windows = _whole_pages(view, tables, fonts, space, block)
    sheets = []
    for n, page in enumerate(pages, start=1):
        page.board.rectangle(Role.FRAME, space)
        part = parted[n - 1] if n <= len(parted) else None
        words = part.words(key) if part and key else ""
        fields = TitleFields(view.id, view.title, n, len(pages), view.scale, document, words, part.span if part else None)
        draw_title_block(page.board, (space.right, space.bottom), design, fields, said, key)
        name = view.id if n == 1 else f"{view.id}-{n}"
        title = f"{view.title}, part {n} of {len(parted)}" if part else view.title if n == 1 else f"{view.title}, sheet {n}"
        shown = windows[n - 1 : n]
        drawn = (tuple(page.board.primitives), *own_title(design, space, fields))
        sheets.append(Sheet(name, title, paper.width, paper.height, shown, *drawn))
    return tuple(sheets)


def _whole_pages(
    view: View, tables: tuple[Table, ...], fonts: Fonts, space: Rect, block: float
) -> tuple[list[Page], tuple[Window, ...]]:
    """The whole view on the first page, where its tables take the fewest pages and the fewest of them run on to others."""
    pages: list[Page] = []
    window: Window | None = None
    for tried in _windows(view, space, block):
        first = Page(Board(fonts, source=view.id), _columns(space, block, tried.paper))
        filled = _filled(tables, [first], _columns(space, block))
        if window is None or _run_on(filled) < _run_on(pages):
            window, pages = tried, filled
        if len(pages) == 1:
            break
    return pages, (window,) if window else ()


def _run_on(pages: Sequence[Page]) -> tuple[int, int]:
    """How many pages there are, and how much stands on others than the first."""
    return len(pages), sum(len(page.board.primitives) for page in pages[1:])


def _laid_parts(view: View, key: LeafFacts | None, fonts: Fonts, space: Rect, block: float) -> tuple[Part, ...]:
    """The parts of a parted view, in the first room that holds them all; none of a whole view."""
    if not view.cuts or key is None:
        return ()
    tried = [lay_parts(view, key, fonts, room) for room in _rooms(space, block)]
    rooms = _rooms(space, block)
    fitting = (laid for laid, room in zip(tried, rooms, strict=True) if all(_fits(p.box.width, p.box.height, room) for p in laid))
    return next(fitting, tried[0])


def _parted_pages(
    parted: tuple[Part, ...], view: View, key: LeafFacts, tables: tuple[Table, ...], fonts: Fonts, space: Rect, block: float
) -> tuple[list[Page], tuple[Window, ...]]:
    """A page for every part, with tables in what it leaves free, and more pages if they need them."""
    pages = []
    for part in parted:
        page = Page(Board(fonts, source=view.id), _columns(space, block, part.box))
        draw_part(page.board, part, view, key)
        pages.append(page)
    return _filled(tables, pages, _columns(space, block)), tuple(part.window for part in parted)


def _filled(tables: tuple[Table, ...], pages: list[Page], more: tuple[Rect, ...]) -> list[Page]:
    """The pages with the tables in them: those there are, then as many whole pages as it takes."""
    all_pages = list(pages)
    at = 0

    def next_page() -> Page:
        nonlocal at
        at += 1
        while at < len(all_pages) and not all_pages[at].spaces:
            at += 1
        if at == len(all_pages):
            all_pages.append(Page(Board(pages[0].board.fonts, source=pages[0].board.source), more))
        return all_pages[at]

    flow(tables, pages[0], next_page)
    return all_pages


def _windows(view: View, space: Rect, block: float) -> Iterator[Window]:
    """Where the whole view may stand: in the middle of the sheet's width, then leaving columns free at the right."""
    width, height = view.extents.width / view.scale, view.extents.height / view.scale
    over, beside = _rooms(space, block)
    over_block = _split(space.right - WIDTH, space.right - 1.0)
    rooms = [over, *(Rect(over.left, over.bottom, left - UNDER_VIEW, over.top) for left, _ in over_block[:0:-1]), beside]
    fitting = [room for room in rooms if _fits(width, height, room)]
    for room in fitting or [over]:
        left = (room.left + room.right - width) / 2
        paper = Rect(left, room.top - height, left + width, room.top)
        yield Window(view.id, paper, (view.extents.left, view.extents.bottom), view.scale)


def _columns(space: Rect, block: float, window: Rect | None = None) -> tuple[Rect, ...]:
    """Columns for tables, beside the title block and over it, each from the frame or from under the view down."""
    found = []
    edge = space.right - WIDTH
    for left, right in (*_split(space.left + 2.0, edge - 2.0), *_split(edge, space.right - 1.0)):
        bottom = space.bottom + (block + 2.0 if left >= edge else 2.0)
        under = window is not None and left < window.right and window.left < right
        top = (window.bottom if window is not None and under else space.top) - UNDER_VIEW
        if top - bottom > LEAST_HIGH:
            found.append(Rect(left, bottom, right, top))
    return tuple(found)


def _split(left: float, right: float) -> list[tuple[float, float]]:
    """A stretch of the sheet in as many columns as are wide enough."""
    count = max(1, int((right - left + COLUMN_GAP) // (LEAST_WIDE + COLUMN_GAP)))
    pitch = (right - left + COLUMN_GAP) / count
    return [(left + n * pitch, left + (n + 1) * pitch - COLUMN_GAP) for n in range(count)]
