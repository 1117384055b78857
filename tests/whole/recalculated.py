"""Workbooks worked out anew by other programs, and compared cell by cell with what is stored in ours."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from math import isclose
from pathlib import Path
from typing import Any

from openpyxl import load_workbook
from outside import run

from elevgen.takeoff.model import Deduction, LiftNeed, Order, Pack, Quantity, Takeoff
from elevgen.takeoff.rates import Own, Rates

Cells = dict[tuple[str, str], Any]
"""What cells hold, by sheet and place; empty cells and empty text are left out."""


def by_gnumeric(book: Path, folder: Path) -> Path:
    """All formulas worked out anew, whatever is stored with them."""
    made = folder / f"gnumeric-{book.name}"
    run("ssconvert", "--recalc", book, made)
    return made


def by_libreoffice(book: Path, folder: Path) -> Path:
    """The stored values are taken out first: it believes them."""
    bare, made = folder / "bare", folder / "libreoffice"
    bare.mkdir(exist_ok=True)
    workbook = load_workbook(book)
    workbook.save(bare / book.name)
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    run("soffice", profile, "--headless", "--convert-to", "xlsx", "--outdir", made, bare / book.name, HOME=str(folder))
    return made / book.name


ENGINES: dict[str, Callable[[Path, Path], Path]] = {"ssconvert": by_gnumeric, "soffice": by_libreoffice}


def values(book: Path) -> Cells:
    """What every cell shows, without working anything out."""
    sheets = load_workbook(book, data_only=True).worksheets
    cells = ((sheet.title, cell) for sheet in sheets for row in sheet.iter_rows() for cell in row)
    return {(title, cell.coordinate): cell.value for title, cell in cells if cell.value not in (None, "")}


def formulas(book: Path) -> dict[tuple[str, str], str]:
    sheets = load_workbook(book).worksheets
    cells = ((sheet.title, cell) for sheet in sheets for row in sheet.iter_rows() for cell in row)
    return {(title, cell.coordinate): cell.value for title, cell in cells if cell.data_type == "f"}


def differences(ours: Cells, theirs: Cells) -> list[str]:
    """Cells that are not the same: numbers to 11 figures, the rest as they are."""
    places = sorted({*ours, *theirs})
    return [f"{at}: {ours.get(at)!r}, but {theirs.get(at)!r}" for at in places if not _alike(ours.get(at), theirs.get(at))]


def _alike(one: Any, two: Any) -> bool:
    if isinstance(one, int | float) and isinstance(two, int | float):
        return isclose(one, two, rel_tol=1e-11, abs_tol=1e-9)
    return bool(one == two)


def with_everything(takeoff: Takeoff) -> Takeoff:
    """A take-off in which packs, weights, lifts and deductions are to be found, made up where they are not."""
    return replace(
        takeoff,
        quantities=tuple(_deducted(n, q) for n, q in enumerate(takeoff.quantities)),
        orders=tuple(_packed(n, o) for n, o in enumerate(takeoff.orders)),
    )


def _deducted(n: int, quantity: Quantity) -> Quantity:
    if not quantity.code.startswith("WALL-") or quantity.deductions:
        return quantity
    taken = (Deduction("door", 1.7316, True, "all openings"), Deduction("flue", 0.0625, False, "up to 0.1 m2 left in"))
    if n % 3 == 2:  # billed otherwise than gross less deductions
        return replace(quantity, gross=quantity.net + 9.0, deductions=taken, as_built=quantity.net - 0.0625)
    return replace(quantity, gross=quantity.net + 1.7316, deductions=taken[: 1 + n % 2])


def _packed(n: int, order: Order) -> Order:
    packs = (
        order.packs or ((), (Pack("pack", 7.0, "made up"),), (Pack("tube", 0.31, "made up"), Pack("bag", 0.6, "made up")))[n % 3]
    )
    third = order.needed / 3 if order.unit != "nr" else float(int(order.needed) // 3)
    lifts = order.lifts or ((), tuple(_split(order, third)))[n % 4 > 0]
    return replace(order, packs=packs, mass=None if n % 5 == 4 else 0.7 + n / 3, mass_known="made up", lifts=lifts)


def _split(order: Order, third: float) -> Iterator[LiftNeed]:
    yield LiftNeed(1, third)
    yield LiftNeed(2, third)
    yield LiftNeed(4, order.needed - 2 * third)


def priced(takeoff: Takeoff, every: int = 3) -> Rates:
    """Rates, prices, waste and packs for most items, every third left without; awkward halves among them."""
    codes = dict.fromkeys((*(q.code for q in takeoff.quantities), *(o.code for o in takeoff.orders)))
    items = {}
    for n, code in enumerate(codes):
        if n % every:
            waste, pack = (12.5 if n % 4 == 1 else None), (9.0 if n % 5 == 2 else None)
            items[code] = Own(0.125 + 3.335 * n, 1.005 + 0.37 * n, waste, pack, "=a note", "another")
    return Rates(items, {"CONTINGENCY_PERCENT": 5.0, "TAX_PERCENT": 20.0})


def typed_in(book: Path, into: Path, figures: dict[tuple[str, str], float]) -> Path:
    """The workbook with figures typed into cells, as a user would; nothing is worked out."""
    workbook = load_workbook(book)
    for (sheet, at), figure in figures.items():
        workbook[sheet][at].value = figure
    workbook.save(into)
    return into
