"""Sheets in paper space: a layout each, with its windows on model space and a title block."""

from __future__ import annotations

from ezdxf.document import Drawing
from ezdxf.layouts.layout import Paperspace

from elevgen.core.geometry import Point, Rect, box_round
from elevgen.drawing.scene import Dimension, Fill, Line, Polyline, Primitive, Role, Scene, Sheet
from elevgen.writers._dxf_entities import Entities
from elevgen.writers._dxf_tags import plain

_LONGEST_TITLE = 60
_BORDER = 0.8
"""A title block this large, as a part of the paper both ways, is a border for the whole sheet."""
_NEAR = 0.01


def add_sheet(doc: Drawing, scene: Scene, sheet: Sheet, entities: Entities, shift: Point, title_block: str = "") -> None:
    """A layout for a sheet. `shift` is where model space has been moved to; `title_block` a block to stand in place of ours."""
    layout = doc.layouts.new(layout_name(doc, sheet.title))
    assert isinstance(layout, Paperspace)
    layout.page_setup(size=(sheet.width, sheet.height), margins=(0, 0, 0, 0), units="mm")
    layer = entities.names.layers[Role.VIEWPORT]
    for window in sheet.windows:
        view = scene.view(window.view)
        paper = window.paper
        width, height = paper.width * window.scale, paper.height * window.scale
        layout.add_viewport(
            center=(plain((paper.left + paper.right) / 2), plain((paper.bottom + paper.top) / 2)),
            size=(plain(paper.width), plain(paper.height)),
            view_center_point=(
                plain(shift[0] + view.place[0] + window.corner[0] + width / 2),
                plain(shift[1] + view.place[1] + window.corner[1] + height / 2),
            ),
            view_height=plain(height),
            dxfattribs={"layer": layer},
        )
    if title_block and sheet.title_room is not None:
        primitives = _put_title_block(layout, sheet, sheet.title_room, title_block, entities)
    else:
        primitives = sheet.primitives
    entities.add_all(layout, primitives, paper=True)
    layout.reset_extents((0, 0, 0), (sheet.width, sheet.height, 0))
    layout.reset_limits((0, 0), (sheet.width, sheet.height))


def layout_name(doc: Drawing, title: str) -> str:
    """A legal layout name not yet taken, made of the sheet's title."""
    plain = title.encode("ascii", "ignore").decode()
    legal = " ".join("".join(c if c.isalnum() or c in "-_." else " " for c in plain).split()) or "Sheet"
    taken = {name.lower() for name in doc.layouts.names()}
    name, n = legal[:_LONGEST_TITLE], 2
    while name.lower() in taken:
        name, n = f"{legal[: _LONGEST_TITLE - 4]} {n}", n + 1
    return name


def _put_title_block(layout: Paperspace, sheet: Sheet, room: Rect, name: str, entities: Entities) -> tuple[Primitive, ...]:
    """The user's title block, filled in, in its room or round the sheet. Returns what of ours is still to be drawn.

    A border for the whole sheet stands with its base point in the corner of the paper; any other block in the corner of the
    frame, made smaller where it would not fit the room.
    """
    from ezdxf import bbox

    block = layout.doc.blocks.get(name)
    box = bbox.extents((e for e in block if e.dxftype() != "ATTDEF"), fast=True)
    wide, high = (box.size.x, box.size.y) if box.has_data else (0.0, 0.0)
    border = wide >= _BORDER * sheet.width and high >= _BORDER * sheet.height
    size, at = 1.0, (0.0, 0.0)
    if not border and box.has_data:
        size = min(1.0, room.width / wide if wide else 1.0, room.height / high if high else 1.0)
        base = block.block.dxf.base_point if block.block is not None else (0.0, 0.0)
        at = (room.right - (box.extmax.x - base[0]) * size, room.bottom - (box.extmin.y - base[1]) * size)
    attribs = {"layer": entities.names.layers[Role.FRAME], "xscale": size, "yscale": size, "zscale": size}
    fields = dict(sheet.fields)
    tags = {attdef.dxf.tag for attdef in block.attdefs() if attdef.dxf.hasattr("tag")}
    if not {"NUMBER", "PROJECT_NUMBER"} & {tag.upper() for tag in tags} and "NUMBER" in fields:
        fields["DRAWING"] = fields["NUMBER"]  # the project's number stands nowhere else
    values = {tag: fields[tag.upper()] for tag in sorted(tags) if tag.upper() in fields}
    layout.add_blockref(name, at, dxfattribs=attribs).add_auto_attribs(values)
    return tuple(p for p in sheet.primitives if not _within(p, room) and not (border and _frames(p, sheet)))


def _within(primitive: Primitive, room: Rect) -> bool:
    """True for what is drawn in a room; not for a line along its edge."""
    box = _box(primitive)
    x, y = (box.left + box.right) / 2, (box.bottom + box.top) / 2
    inside = room.left < x < room.right and room.bottom < y < room.top
    return (
        inside
        and all(room.left - _NEAR <= x <= room.right + _NEAR for x in (box.left, box.right))
        and (room.bottom - _NEAR <= box.bottom and box.top <= room.top + _NEAR)
    )


def _frames(primitive: Primitive, sheet: Sheet) -> bool:
    """True for the frame round the whole sheet."""
    box = _box(primitive)
    return primitive.role is Role.FRAME and box.width >= _BORDER * sheet.width and box.height >= _BORDER * sheet.height


def _box(primitive: Primitive) -> Rect:
    """What a primitive spans by the points it is drawn from."""
    match primitive:
        case Polyline(_, points) | Fill(_, points):
            found = points
        case Line(_, a, b) | Dimension(_, a, b):
            found = (a, b)
        case _:
            found = (primitive.at,)
    return box_round(found)
