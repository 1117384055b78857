"""Other programs run on our files, what they draw as pixels, and how alike two pictures are.

A picture is an array of truth: whether there is ink, rows from the top. Tints are paper.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest
from finished_set import Drawing
from numpy.typing import NDArray
from PIL import Image
from scipy import ndimage

from elevgen.drawing.font import Fonts
from elevgen.drawing.scene import Scene
from elevgen.writers import svg

Ink = NDArray[np.bool_]
Colours = NDArray[np.int16]

DARK = 205
"""Luminance below which a pixel is ink: darker than any tint, lighter than the thinnest pen on a tint."""


def needs(*programs: str) -> pytest.MarkDecorator:
    """Skip where a program is not installed."""
    missing = [name for name in programs if shutil.which(name) is None]
    return pytest.mark.skipif(bool(missing), reason=f"not installed here: {', '.join(missing)}")


def run(*command: str | Path, seconds: float = 120, **environment: str) -> str:
    """What a program prints; it must succeed, in time, and without a display."""
    env = {**os.environ, "QT_QPA_PLATFORM": "offscreen", **environment}
    done = subprocess.run([str(c) for c in command], capture_output=True, timeout=seconds, env=env, check=False)
    assert done.returncode == 0, (command, done.stderr.decode(errors="replace")[-2000:])
    return done.stdout.decode()


def on_white(image: Path) -> Image.Image:
    """A picture on white paper."""
    with Image.open(image) as opened:
        flat = Image.new("RGB", opened.size, "white")
        flat.paste(opened.convert("RGB"), mask=opened.getchannel("A") if opened.mode == "RGBA" else None)
        return flat


def pixels_in(image: Path) -> Colours:
    """Red, green and blue."""
    return np.asarray(on_white(image)).astype(np.int16)


def luminance(pixels: Colours) -> NDArray[np.float64]:
    red, green, blue = (pixels[..., n] for n in range(3))
    return 0.299 * red + 0.587 * green + 0.114 * blue


def ink_in(image: Path) -> Ink:
    """By the luminance of each pixel, whole."""
    return np.asarray(on_white(image).convert("L")) < DARK


def page_drawn(pdf: Path, folder: Path, dpi: float, page: int, box: tuple[int, ...] | None) -> Path:
    """A page as poppler draws it, or a box of its pixels: left, top, width, height."""
    out = folder / f"{pdf.stem}-{page}"
    crop = [x for flag, n in zip("xyWH", box, strict=True) for x in (f"-{flag}", str(n))] if box else []
    run("pdftoppm", "-r", str(dpi), "-f", str(page), "-l", str(page), "-singlefile", *crop, pdf, out)
    return out.with_suffix(".ppm")


def pixels_of_page(pdf: Path, folder: Path, dpi: float, page: int = 1, box: tuple[int, ...] | None = None) -> Colours:
    """The colours of a page, or of a box of it."""
    return pixels_in(page_drawn(pdf, folder, dpi, page, box))


def ink_of_page(pdf: Path, folder: Path, dpi: float, page: int = 1, box: tuple[int, ...] | None = None) -> Ink:
    """The ink of a page, or of a box of it."""
    return ink_in(page_drawn(pdf, folder, dpi, page, box))


def ink_of_svg(text: str, folder: Path, width: int, height: int) -> Ink:
    """An SVG as librsvg draws it, so many pixels wide and high."""
    source, out = folder / "picture.svg", folder / "picture.png"
    source.write_text(text, encoding="utf-8")
    run("rsvg-convert", "-w", str(width), "-h", str(height), source, "-o", out)
    return ink_in(out)


def without_the_largest(drawing: Drawing) -> Drawing:
    """A drawing as it would be with one view forgotten, the one with most to see."""
    largest = max(drawing.views, key=lambda shown: shown[0].extents.width * shown[0].extents.height)
    return Drawing(drawing.path, tuple(shown for shown in drawing.views if shown is not largest))


def ink_of_views(scene: Scene, drawing: Drawing, folder: Path, long_side: int) -> Ink:
    """Model space of a drawing put together from our own SVGs, so many pixels on its longer side."""
    whole = drawing.reach
    per_mm = long_side / max(whole.width, whole.height)
    page = np.zeros((round(whole.height * per_mm) + 2, round(whole.width * per_mm) + 2), dtype=bool)
    fonts = Fonts()
    for view, (x, y) in drawing.views:
        edge = svg.MARGIN * view.scale
        width, height = (round((side + 2 * edge) * per_mm) for side in (view.extents.width, view.extents.height))
        drawn = ink_of_svg(svg.picture(scene, view, fonts), folder, width, height)
        left = round((x + view.extents.left - edge - whole.left) * per_mm)
        top = round((whole.top - y - view.extents.top - edge) * per_mm)
        rows, columns = (slice(max(0, at), at + n) for at, n in ((top, drawn.shape[0]), (left, drawn.shape[1])))
        target = page[rows, columns]
        from_row, from_column = max(0, -top), max(0, -left)
        target |= drawn[from_row : from_row + target.shape[0], from_column : from_column + target.shape[1]]
    return page


def trimmed(ink: Ink) -> Ink:
    """Without empty edges."""
    assert ink.any(), "blank"
    rows, columns = np.flatnonzero(ink.any(axis=1)), np.flatnonzero(ink.any(axis=0))
    return ink[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]


def in_cells(ink: Ink, rows: int, columns: int) -> Ink:
    """Which cells of a coarse grid have ink."""
    found = np.zeros((rows, columns), dtype=bool)
    ys, xs = np.nonzero(ink)
    found[ys * rows // ink.shape[0], xs * columns // ink.shape[1]] = True
    return found


def share_within(these: Ink, those: Ink, reach: int) -> float:
    """How much of the ink of one picture has ink of the other within so many pixels."""
    near = ndimage.binary_dilation(those, iterations=reach, structure=np.ones((3, 3))) if reach else those
    return float((these & near).sum() / max(1, these.sum()))


def coarsely_alike(one: Ink, two: Ink, cells: int = 80) -> float:
    """The smaller share of inked cells of either picture that have an inked cell of the other beside them; edges trimmed."""
    one, two = trimmed(one), trimmed(two)
    high, wide = one.shape
    rows, columns = max(2, round(cells * min(1.0, high / wide))), max(2, round(cells * min(1.0, wide / high)))
    a, b = in_cells(one, rows, columns), in_cells(two, rows, columns)
    return min(share_within(a, b, 1), share_within(b, a, 1))


def letters_across(ink: Ink) -> int:
    """How many letters stand side by side: stretches of columns with ink."""
    columns = ink.any(axis=0).astype(int)
    return int((np.diff(np.concatenate(([0], columns))) == 1).sum())
