"""A finished set as other programs read it: DXF, PDF, workbook and design.json, each opened once."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

import ezdxf
from openpyxl import load_workbook
from pypdf import PdfReader

from elevgen.core.geometry import Point, Rect
from elevgen.drawing.font import Fonts
from elevgen.drawing.scene import Primitive, Scene, View, Window
from elevgen.writers._in_window import in_window
from elevgen.writers._package import Package


@dataclass(frozen=True)
class Drawing:
    """One DXF of a set, and where the origin of each of its views lies in model space."""

    path: Path
    views: tuple[tuple[View, Point], ...]

    @property
    def version(self) -> str:
        """AC1009 is R12, AC1027 R2013."""
        found = re.search(r"\$ACADVER\s+1\s+(AC\d+)", self.path.read_text(encoding="utf-8", errors="replace")[:2000])
        assert found, self.path
        return found[1]

    @property
    def reach(self) -> Rect:
        """What the views fill of model space."""
        boxes = [
            Rect(v.extents.left + x, v.extents.bottom + y, v.extents.right + x, v.extents.top + y) for v, (x, y) in self.views
        ]
        lows, highs = zip(*(((b.left, b.bottom), (b.right, b.top)) for b in boxes), strict=True)
        return Rect(*(min(side) for side in zip(*lows, strict=True)), *(max(side) for side in zip(*highs, strict=True)))


def through(scene: Scene, window: Window) -> tuple[Primitive, ...]:
    """What a window shows of its view; dimensions as their parts where sheets show a part of the view."""
    return tuple(in_window(scene.view(window.view), window, {block.name: block for block in scene.blocks}, Fonts()))


class Set:
    """A finished set with what it was made from; each file is read once."""

    def __init__(self, package: Package, folder: Path) -> None:
        self.package, self.folder = package, folder
        self.design, self.scene, self.takeoff = package.design, package.scene, package.takeoff

    def file(self, suffix: str) -> Path:
        return self.folder / f"{self.design.name}.{suffix}"

    @cached_property
    def drawings(self) -> tuple[Drawing, ...]:
        """Every DXF of the set: the building's, with all views, and one for each elevation, its wall's start at the origin."""
        by_file = {view.id.replace("/", "-"): view for view in self.scene.views}
        whole = tuple((view, view.place) for view in self.scene.views)
        found = []
        for path in sorted(self.folder.rglob("*.dxf")):
            views = whole if path == self.file("dxf") else ((by_file[path.stem], (0.0, 0.0)),)
            found.append(Drawing(path, views))
        return tuple(found)

    @cached_property
    def dxf(self) -> Any:
        return ezdxf.readfile(self.file("dxf"))

    @cached_property
    def pdf(self) -> PdfReader:
        return PdfReader(self.file("pdf"))

    @cached_property
    def pages(self) -> list[str]:
        return [page.extract_text() for page in self.pdf.pages]

    @cached_property
    def json(self) -> Any:
        return json.loads((self.folder / "design.json").read_bytes())

    @cached_property
    def book(self) -> dict[str, list[tuple[Any, ...]]]:
        sheets = load_workbook(self.file("xlsx"), read_only=True, data_only=True).worksheets
        return {sheet.title: list(sheet.iter_rows(values_only=True)) for sheet in sheets}

    def table(self, sheet: str, heading: str) -> list[dict[str, Any]]:
        """Rows below the line whose first cell is `heading`, by the names of their columns."""
        rows = self.book[sheet]
        first = next(n for n, row in enumerate(rows) if n and row and row[0] == heading)  # the first row is the sheet's title
        names = rows[first + 1]
        found = []
        for row in rows[first + 2 :]:
            if not row or row[0] in (None, "none"):
                break
            found.append(dict(zip(names, row, strict=False)))
        return found
